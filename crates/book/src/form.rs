//! The form of a book's file: how it is told from others, what tables it has, and how older ones are brought up.
//!
//! Knows no text and no document. Invariant: a file that was written in one of the forms below has exactly the tables and
//! triggers of that form.

use rusqlite::{Connection, Transaction};

/// What stands at byte 68 of every book: `NoBk`. Source of the place: SQLite, *Database File Format*, 1.3.
pub(crate) const APPLICATION: i32 = 0x4E6F_426B;

/// The steps by which a book comes into the newest form; a book in form n has had the first n.
///
/// A step is never altered once books have been written with it; a new form is a new step.
pub(crate) const STEPS: &[&str] = &[include_str!("form.sql")];

/// A table, index or trigger: its name and the words that made it.
type Part = (String, Option<String>);

/// Runs the steps that a book of form `from` has not had, and writes down its new form.
pub(crate) fn bring_up(
    change: &Transaction<'_>,
    from: usize,
    steps: &[&str],
) -> rusqlite::Result<()> {
    for step in &steps[from..] {
        change.execute_batch(step)?;
    }
    change.pragma_update(None, "application_id", APPLICATION)?;
    change.pragma_update(None, "user_version", newest(steps))
}

/// The number of the newest form that these steps make.
pub(crate) fn newest(steps: &[&str]) -> i64 {
    i64::try_from(steps.len()).expect("a program has no more than a few steps")
}

/// The number of the form in which a book is written.
pub(crate) fn number(connection: &Connection) -> rusqlite::Result<i64> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Whether a book has the tables and triggers of its form, no less and no more.
pub(crate) fn is_whole(connection: &Connection, steps: &[&str]) -> rusqlite::Result<bool> {
    let model = Connection::open_in_memory()?;
    for step in steps {
        model.execute_batch(step)?;
    }
    Ok(parts(connection)? == parts(&model)?)
}

fn parts(connection: &Connection) -> rusqlite::Result<Vec<Part>> {
    // What the store keeps for itself, such as figures for its own planning, is no part of the form.
    let mut asked = connection.prepare(
        "SELECT name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name",
    )?;
    let rows = asked.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    rows.collect()
}
