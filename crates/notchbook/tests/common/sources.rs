//! The sources of all rooms, and the findings that are made in them, read as text.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Calls that make a finding of a code among their values, besides the finding's own; severities are those of the calls.
const MAKERS: [(&str, &str); 13] = [
    ("Finding::error(", "error"),
    ("Finding::warning(", "warning"),
    ("Finding::note(", "note"),
    ("Finding::new(", "error"),
    ("not_there(", "error"),
    ("told(", "error"),
    ("found(", "error"),
    ("given_twice(", "error"),
    ("missing(", "error"),
    ("unknown(", "error"),
    ("not_a(", "error"),
    ("code: ", "error"),
    ("CODE: &str = ", "error"),
];

/// Codes that are chosen between before the finding is made: file, code, severity, what is found, what to do.
const CHOSEN: [[&str; 5]; 14] = [
    [
        "pattern/src/check/seams.rs",
        "seam-lengths-differ",
        "error",
        "… is … mm longer or shorter than … needs at the … seam.",
        "Name the fullness that is meant, or true the edges.",
    ],
    [
        "pattern/src/check/seams.rs",
        "layers-differ",
        "error",
        "… is … mm longer or shorter than … needs at the … seam.",
        "Name the ease that is meant.",
    ],
    [
        "body/src/read.rs",
        "unit-slip",
        "error, warning",
        "The … is …; in another unit it would be as expected.",
        "Correct the unit, or tape it again.",
    ],
    [
        "body/src/read.rs",
        "measure-impossible",
        "error",
        "The … is written as …; no grown body measures that.",
        "Tape it again.",
    ],
    [
        "body/src/plausible.rs",
        "measure-unlikely",
        "error, warning",
        "The … is …; the other measures lead one to expect …",
        "Tape it again.",
    ],
    [
        "body/src/plausible.rs",
        "measure-unusual",
        "note",
        "The … is …; the other measures lead one to expect …",
        "Look once more; bodies differ.",
    ],
    [
        "notchbook/src/files.rs",
        "file-missing",
        "error",
        "There is no file ….",
        "See whether its name and folder are spelled as given here.",
    ],
    [
        "notchbook/src/files.rs",
        "file-is-folder",
        "error",
        "There is a folder …, and a file is needed.",
        "Name a file in it.",
    ],
    [
        "notchbook/src/files.rs",
        "file-not-permitted",
        "error",
        "You may not read the file ….",
        "Give yourself leave to read it, or copy it to a place of your own.",
    ],
    [
        "notchbook/src/files.rs",
        "file-not-readable",
        "error",
        "The file … cannot be read.",
        "See whether the disk is still there, and try again.",
    ],
    [
        "notchbook/src/files.rs",
        "folder-is-file",
        "error",
        "There is a file …, and a folder is needed.",
        "Name another folder, or move the file away.",
    ],
    [
        "notchbook/src/files.rs",
        "folder-not-made",
        "error",
        "The folder … cannot be made.",
        "Name a folder in a place of your own, such as --out papers.",
    ],
    [
        "notchbook/src/files.rs",
        "disk-full",
        "error",
        "The file … cannot be written: the disk is full.",
        "Make room there, or name another folder.",
    ],
    [
        "notchbook/src/files.rs",
        "file-not-written",
        "error",
        "The file … cannot be written.",
        "Make room there, or name another folder.",
    ],
];

/// What is told of a code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Entry {
    pub(crate) code: String,
    pub(crate) severity: String,
    pub(crate) message: String,
    pub(crate) allowed: String,
    pub(crate) cure: String,
    /// File from the folder of the crates.
    pub(crate) file: String,
}

/// The folder of the project.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every source file by its path from the folder of the crates, without its tests.
pub(crate) fn sources() -> BTreeMap<String, String> {
    let crates = root().join("crates");
    let mut sources = BTreeMap::new();
    let rooms = fs::read_dir(&crates)
        .expect("the crates are there")
        .flatten();
    let mut folders: Vec<PathBuf> = rooms.map(|room| room.path().join("src")).collect();
    while let Some(folder) = folders.pop() {
        for file in fs::read_dir(&folder).into_iter().flatten().flatten() {
            let path = file.path();
            let is_source = path.extension().is_some_and(|end| end == "rs");
            if path.is_dir() {
                folders.push(path);
            } else if is_source && path.file_name().is_some_and(|name| name != "tests.rs") {
                let text = fs::read_to_string(&path).expect("sources are text");
                let own = text.split("#[cfg(test)]").next().unwrap_or_default();
                let name = path.strip_prefix(&crates).expect("it lies there");
                sources.insert(name.to_string_lossy().replace('\\', "/"), own.to_owned());
            }
        }
    }
    sources
}

/// Codes that stand as text right behind the bracket of a finding.
pub(crate) fn literal_codes(sources: &BTreeMap<String, String>) -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    for text in sources.values() {
        for maker in ["error(", "warning(", "note("] {
            for rest in text.split(&format!("Finding::{maker}")).skip(1) {
                let code = rest.trim_start().strip_prefix('"');
                codes.extend(code.and_then(|rest| Some(rest.split_once('"')?.0.to_owned())));
            }
        }
    }
    codes
}

/// One entry a code and room, in the order of codes.
pub(crate) fn entries(sources: &BTreeMap<String, String>) -> Vec<Entry> {
    let mut entries: Vec<Entry> = CHOSEN
        .map(|[file, code, severity, message, cure]| Entry {
            code: code.into(),
            severity: severity.into(),
            message: message.into(),
            allowed: String::new(),
            cure: cure.into(),
            file: file.into(),
        })
        .to_vec();
    for (file, text) in sources {
        if text.contains("pub const fn code(&self)") {
            for fault in super::faults::entries(file, text) {
                add(&mut entries, fault);
            }
        }
        for (maker, severity) in MAKERS {
            for (at, _) in text.match_indices(maker) {
                let is_whole = text[..at]
                    .chars()
                    .next_back()
                    .is_none_or(|letter| !letter.is_alphanumeric() && letter != '_');
                if is_whole
                    && let Some(entry) = entry(file, &text[at + maker.len() - 1..], severity)
                {
                    add(&mut entries, entry);
                }
            }
        }
    }
    entries.sort_by(|a, b| (&a.code, &a.file).cmp(&(&b.code, &b.file)));
    entries
}

fn add(entries: &mut Vec<Entry>, new: Entry) {
    let is_check = |entry: &Entry| entry.file.contains("/check/");
    let known = entries
        .iter_mut()
        .find(|known| known.code == new.code && is_check(known) == is_check(&new));
    let Some(known) = known else {
        entries.push(new);
        return;
    };
    if !known.severity.contains(&new.severity) {
        known.severity = format!("{}, {}", known.severity, new.severity);
    }
    for (old, new) in [
        (&mut known.message, new.message),
        (&mut known.allowed, new.allowed),
        (&mut known.cure, new.cure),
    ] {
        if old.is_empty() {
            *old = new;
        }
    }
}

/// What a call says of its code, from the bracket that opens it, and the calls that are chained to it.
fn entry(file: &str, from: &str, severity: &str) -> Option<Entry> {
    let call = if from.starts_with('(') {
        bracketed(from)
    } else {
        from.split(['\n', ';']).next()?
    };
    let mut texts = literals(call).into_iter();
    let code = texts.next().filter(|text| is_code(text))?;
    let message = texts.find(|text| text.contains(' ')).unwrap_or_default();
    let chain = chained(&from[call.len()..]);
    let said = |name: &str| {
        let rest = chain.split_once(name).map(|(_, rest)| rest);
        let texts = rest.map(|rest| literals(bracketed(&format!("({rest}"))));
        texts
            .and_then(|texts| texts.into_iter().next())
            .unwrap_or_default()
    };
    Some(Entry {
        code,
        severity: severity.into(),
        message: sentence(&message),
        allowed: said(".allowed("),
        cure: sentence(&said(".cure(")),
        file: file.into(),
    })
}

fn is_code(text: &str) -> bool {
    text.contains('-')
        && text
            .chars()
            .all(|letter| letter.is_ascii_lowercase() || "-0123456789".contains(letter))
}

/// The text from a bracket to the one that closes it, both included.
fn bracketed(text: &str) -> &str {
    let (mut depth, mut quoted, mut escaped) = (0_i32, false, false);
    for (at, letter) in text.char_indices() {
        match letter {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '(' | '[' | '{' if !quoted => depth += 1,
            ')' | ']' | '}' if !quoted => depth -= 1,
            _ => {}
        }
        if depth == 0 && !quoted {
            return &text[..at + letter.len_utf8()];
        }
    }
    text
}

/// The calls that follow a call directly: `.at(…).cure(…)`.
fn chained(text: &str) -> &str {
    let mut end = 0;
    loop {
        let rest = &text[end..];
        let gap = rest.len() - rest.trim_start().len();
        let Some(call) = rest.trim_start().strip_prefix('.') else {
            return &text[..end];
        };
        let name = call.find(|letter: char| !letter.is_alphanumeric() && letter != '_');
        let Some(name) = name.filter(|&at| call[at..].starts_with('(')) else {
            return &text[..end];
        };
        end += gap + 1 + name + bracketed(&call[name..]).len();
    }
}

/// Texts in quotes, in order, with what is put into them as ….
fn literals(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        if letter != '"' {
            continue;
        }
        let mut literal = String::new();
        while let Some(letter) = letters.next() {
            match letter {
                '"' => break,
                '\\' => literal.extend(
                    letters
                        .next()
                        .map(|next| if next == '\n' { ' ' } else { next }),
                ),
                letter => literal.push(letter),
            }
        }
        found.push(plain(&literal));
    }
    found
}

/// A text with … for what is put in, and single spaces.
fn plain(literal: &str) -> String {
    let mut text = String::new();
    let mut rest = literal;
    while let Some((before, within)) = rest.split_once('{') {
        text += before;
        let (_, after) = within.split_once('}').unwrap_or(("", ""));
        text.push('…');
        rest = after;
    }
    text += rest;
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    let mut words = first.unwrap_or_default() + letters.as_str();
    if !words.is_empty() && !words.ends_with(['.', '?', '!', '…', '"', ':', '}']) {
        words.push('.');
    }
    words
}
