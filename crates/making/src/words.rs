//! Small help with words: wrapping, counting, tables, names of files.

use std::path::Path;

/// Lines are not longer than this, letters.
pub const WIDTH: usize = 96;

/// Text without signs that would steer a terminal instead of being shown; line breaks stay.
pub fn printable(text: &str) -> String {
    let shown = |letter: char| match letter {
        '\n' => '\n',
        '\t' => ' ',
        // Signs that turn the direction of writing round hide what is written as well as control signs do.
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => char::REPLACEMENT_CHARACTER,
        letter if letter.is_control() => char::REPLACEMENT_CHARACTER,
        letter => letter,
    };
    text.chars().map(shown).collect()
}

/// Breaks text into lines between words; line breaks that are there stay.
pub fn wrapped(text: &str, width: usize) -> String {
    let lines = text.lines().map(|line| wrapped_line(line, width));
    lines.collect::<Vec<_>>().join("\n")
}

fn wrapped_line(line: &str, width: usize) -> String {
    let (mut out, mut used) = (String::new(), 0);
    for word in line.split(' ') {
        let letters = word.chars().count();
        if used > 0 && used + 1 + letters > width {
            out.push('\n');
            used = 0;
        } else if used > 0 {
            out.push(' ');
            used += 1;
        }
        out.push_str(word);
        used += letters;
    }
    out
}

/// "1 piece", "5 pieces".
pub fn count(number: usize, one: &str) -> String {
    let ending = if number == 1 { "" } else { "s" };
    format!("{number} {one}{ending}")
}

/// The same text with a capital.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

/// A name as a person says it: `skirt-front/side` becomes "skirt front side".
pub fn spoken(name: &str) -> String {
    name.replace(['-', '/'], " ")
}

/// "front, back and sleeve".
pub fn listed(words: &[String]) -> String {
    match words {
        [rest @ .., last] if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => words.concat(),
    }
}

/// Rows in columns two spaces apart, each indented by two; columns from `right_from` on stand at the right, but for the
/// last where `last_left`.
pub fn table(rows: &[Vec<String>], right: &[bool]) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let mut out = String::new();
    for row in rows {
        let mut line = String::from(" ");
        for (column, cell) in row.iter().enumerate() {
            let space = " ".repeat(widths[column] - cell.chars().count());
            line.push(' ');
            line.push_str(&if right.get(column) == Some(&true) {
                space + cell
            } else {
                cell.clone() + &space
            });
            line.push(' ');
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

/// The last part of a path, or all of it where it has none.
pub fn file_name(path: &str) -> String {
    Path::new(path).file_name().map_or_else(
        || path.to_owned(),
        |name| name.to_string_lossy().into_owned(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_a_terminal_is_not_shown() {
        assert_eq!(
            printable("a\u{1b}[31m\tb\nc\u{202e}"),
            "a\u{fffd}[31m b\nc\u{fffd}"
        );
    }

    #[test]
    fn text_is_wrapped_between_words() {
        assert_eq!(wrapped("aa bb cc dddddd e", 5), "aa bb\ncc\ndddddd\ne");
        assert_eq!(wrapped("", 5), "");
    }

    #[test]
    fn columns_are_as_wide_as_their_widest_cell() {
        let rows = [["bust", "937.0"], ["ä", "5.0"]].map(|row| row.map(str::to_owned).to_vec());
        assert_eq!(
            table(&rows, &[false, true]),
            "  bust  937.0\n  ä       5.0\n"
        );
    }

    #[test]
    fn things_are_counted_and_listed() {
        assert_eq!(count(1, "page"), "1 page");
        assert_eq!(count(0, "page"), "0 pages");
        assert_eq!(listed(&["a".into(), "b".into(), "c".into()]), "a, b and c");
        assert_eq!(listed(&["a".into()]), "a");
    }
}
