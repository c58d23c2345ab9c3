//! Opening a book: what is no book, damaged or newer is refused before a byte of it is touched.
//!
//! Invariant: a file is only ever written to after it has been found to be a sound book in a form that is known here.

use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Read as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use jiff::Timestamp;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use crate::{Book, Fault, form};

/// How long another program's writing is waited for.
const PATIENCE: Duration = Duration::from_secs(5);

/// The first words of every file of this store. Source: SQLite, *Database File Format*, 1.3.
const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// Bytes of the header; the same source.
const HEADER: usize = 100;

impl Book {
    /// Opens a book that is there.
    ///
    /// An older form is brought up after a copy has been laid beside it.
    pub fn open(path: &Path) -> Result<Self, Fault> {
        open(path, false, form::STEPS)
    }

    /// Opens a book, or begins one where there is no file or an empty one; folders are made as needed.
    pub fn open_or_begin(path: &Path) -> Result<Self, Fault> {
        open(path, true, form::STEPS)
    }
}

/// What the first bytes of a file say.
enum Looks {
    /// There is no file.
    Missing,
    /// There is nothing in the file.
    Empty,
    /// Like a book.
    Book,
}

/// Opens a book whose newest form is that of these steps.
pub(crate) fn open(path: &Path, may_begin: bool, steps: &[&str]) -> Result<Book, Fault> {
    let missing = || Fault::Missing {
        path: path.to_owned(),
    };
    match looks(path)? {
        Looks::Book => {}
        Looks::Empty if may_begin => {}
        Looks::Empty => return Err(not_a_book(path, "the file is empty")),
        Looks::Missing if may_begin => make_folder(path)?,
        Looks::Missing => return Err(missing()),
    }
    let mut connection = connect(path, may_begin)?;
    prepare(path, &mut connection, steps)?;
    Ok(Book::new(path.to_owned(), connection))
}

/// Reads the head of a file without the store, which might otherwise mend or lengthen it.
fn looks(path: &Path) -> Result<Looks, Fault> {
    match fs::metadata(path) {
        Err(fault) if fault.kind() == ErrorKind::NotFound => return Ok(Looks::Missing),
        Err(fault) => return Err(not_opened(path, &fault)),
        Ok(there) if there.is_dir() => return Err(not_a_book(path, "it is a folder")),
        Ok(there) if !there.is_file() => return Err(not_a_book(path, "it is no file")),
        Ok(there) if there.len() == 0 => return Ok(Looks::Empty),
        Ok(_) => {}
    }
    let head = head(path).map_err(|fault| not_opened(path, &fault))?;
    if !head.starts_with(&MAGIC[..head.len().min(MAGIC.len())]) {
        return Err(not_a_book(path, "it is a file of another kind"));
    }
    if head.len() < HEADER {
        return Err(damaged(path, "it breaks off in its first bytes"));
    }
    let application = i32::from_be_bytes([head[68], head[69], head[70], head[71]]);
    if application == form::APPLICATION {
        Ok(Looks::Book)
    } else {
        Err(not_a_book(path, "it is a database of another program"))
    }
}

fn head(path: &Path) -> std::io::Result<Vec<u8>> {
    let mut head = Vec::new();
    File::open(path)?
        .take(HEADER as u64)
        .read_to_end(&mut head)?;
    Ok(head)
}

fn make_folder(path: &Path) -> Result<(), Fault> {
    let Some(folder) = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
    else {
        return Ok(());
    };
    fs::create_dir_all(folder).map_err(|fault| not_opened(path, &fault))
}

fn connect(path: &Path, may_begin: bool) -> Result<Connection, Fault> {
    let of_store = |fault| Fault::of_store(path, &fault);
    let mut flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    if may_begin {
        flags |= OpenFlags::SQLITE_OPEN_CREATE;
    }
    let connection = Connection::open_with_flags(path, flags).map_err(of_store)?;
    connection.busy_timeout(PATIENCE).map_err(of_store)?;
    // A book may come from somebody else: nothing that stands in it may run more than plain triggers.
    for (what, wanted) in [
        (DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false),
        (DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true),
        (DbConfig::SQLITE_DBCONFIG_ENABLE_FKEY, true),
    ] {
        connection.set_db_config(what, wanted).map_err(of_store)?;
    }
    // FULL, and the end of the journal is brought to the disk too: what was said to be written outlives a power cut.
    connection
        .pragma_update(None, "synchronous", "EXTRA")
        .map_err(of_store)?;
    connection
        .pragma_update(None, "cell_size_check", true)
        .map_err(of_store)?;
    connection.set_prepared_statement_cache_capacity(32);
    Ok(connection)
}

/// Begins, accepts, brings up or refuses what is in the file.
fn prepare(path: &Path, connection: &mut Connection, steps: &[&str]) -> Result<(), Fault> {
    let of_store = |fault| Fault::of_store(path, &fault);
    let known = steps.len();
    if is_blank(connection).map_err(of_store)? {
        return begin(connection, steps).map_err(of_store);
    }
    let application: i32 = connection
        .pragma_query_value(None, "application_id", |row| row.get(0))
        .map_err(of_store)?;
    if application != form::APPLICATION {
        return Err(not_a_book(path, "it is a database of another program"));
    }
    let found = form::number(connection).map_err(of_store)?;
    let number = usize::try_from(found).ok().filter(|number| *number >= 1);
    let Some(number) = number else {
        return Err(damaged(path, "the number of its form is lost"));
    };
    if number > known {
        let (path, known) = (path.to_owned(), form::newest(steps));
        return Err(Fault::Newer { path, found, known });
    }
    sound(path, connection, &steps[..number])?;
    if number < known {
        bring_up(path, connection, number, steps)?;
    }
    Ok(())
}

fn is_blank(connection: &Connection) -> rusqlite::Result<bool> {
    let pages: i64 = connection.pragma_query_value(None, "page_count", |row| row.get(0))?;
    Ok(pages == 0)
}

/// Writes the newest form into an empty file, unless another program has been faster.
fn begin(connection: &mut Connection, steps: &[&str]) -> rusqlite::Result<()> {
    let change = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // A first page is made by beginning to write; what counts now is whether anything stands on it.
    let has_parts: bool =
        change.query_row("SELECT EXISTS (SELECT 1 FROM sqlite_schema)", [], |row| {
            row.get(0)
        })?;
    if !has_parts {
        form::bring_up(&change, 0, steps)?;
    }
    change.commit()
}

/// Refuses a book that is damaged.
fn sound(path: &Path, connection: &Connection, steps: &[&str]) -> Result<(), Fault> {
    let of_store = |fault| Fault::of_store(path, &fault);
    let wrong = faults_of(connection, "quick_check(3)").map_err(of_store)?;
    if !wrong.is_empty() {
        return Err(damaged(path, &wrong.join("; ")));
    }
    if form::is_whole(connection, steps).map_err(of_store)? {
        Ok(())
    } else {
        Err(damaged(path, "its tables are not those of a book"))
    }
}

/// What a check of the store says, without its "ok".
pub(crate) fn faults_of(connection: &Connection, check: &str) -> rusqlite::Result<Vec<String>> {
    let mut asked = connection.prepare(&format!("PRAGMA {check}"))?;
    let rows = asked.query_map([], |row| row.get::<_, String>(0))?;
    let said: Vec<String> = rows.collect::<rusqlite::Result<_>>()?;
    Ok(said.into_iter().filter(|line| line != "ok").collect())
}

/// Lays a copy aside and brings the book into the newest form.
fn bring_up(
    path: &Path,
    connection: &mut Connection,
    number: usize,
    steps: &[&str],
) -> Result<(), Fault> {
    copy(connection, &aside(path, number))?;
    let of_store = |fault| Fault::of_store(path, &fault);
    let change = connection
        .transaction_with_behavior(TransactionBehavior::Immediate)
        .map_err(of_store)?;
    // Another program may have brought it up in the meantime.
    if usize::try_from(form::number(&change).map_err(of_store)?) == Ok(number) {
        form::bring_up(&change, number, steps).map_err(of_store)?;
    }
    change.commit().map_err(of_store)
}

/// Where the copy of a book in an older form lies: `book.form-1.20261201T104837Z.notchbook`.
fn aside(path: &Path, number: usize) -> PathBuf {
    let time = Timestamp::now().strftime("%Y%m%dT%H%M%SZ");
    let ending = path
        .extension()
        .map(|ending| format!(".{}", ending.to_string_lossy()));
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push(format!(
        ".form-{number}.{time}{}",
        ending.unwrap_or_default()
    ));
    path.with_file_name(name)
}

/// Writes a whole copy into a file that is not there yet, and brings it to the disk.
pub(crate) fn copy(connection: &Connection, to: &Path) -> Result<(), Fault> {
    let no_copy = |why: String| Fault::NoCopy {
        path: to.to_owned(),
        why,
    };
    let name = to
        .to_str()
        .ok_or_else(|| no_copy("its name is not UTF-8".into()))?;
    // The place is taken first, so that nothing that is there is ever replaced.
    let file = OpenOptions::new().write(true).create_new(true).open(to);
    let file = file.map_err(|fault| no_copy(words(&fault)))?;
    let done = connection
        .execute("VACUUM INTO ?1", [name])
        .map_err(|fault| fault.to_string())
        .and_then(|_| file.sync_all().map_err(|fault| words(&fault)));
    done.map_err(|why| {
        // Half a copy would look like a whole one.
        let _ = fs::remove_file(to);
        no_copy(why)
    })
}

/// What the system says, without its number.
fn words(fault: &std::io::Error) -> String {
    match fault.kind() {
        ErrorKind::PermissionDenied => "you may not do that there".to_owned(),
        ErrorKind::AlreadyExists => "there is a file of that name".to_owned(),
        _ => {
            let words = fault.to_string();
            let end = words.find(" (os error").unwrap_or(words.len());
            words[..end].to_lowercase()
        }
    }
}

fn not_opened(path: &Path, fault: &std::io::Error) -> Fault {
    let (path, why) = (path.to_owned(), words(fault));
    Fault::NotOpened { path, why }
}

fn not_a_book(path: &Path, found: &str) -> Fault {
    let (path, found) = (path.to_owned(), found.to_owned());
    Fault::NotABook { path, found }
}

fn damaged(path: &Path, what: &str) -> Fault {
    let (path, what) = (path.to_owned(), what.to_owned());
    Fault::Damaged { path, what }
}

#[cfg(test)]
mod tests;
