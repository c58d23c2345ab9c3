//! What the manuals that are made from the program have in common: the body and block of their examples, and how pages are
//! written and compared.

#![allow(dead_code, reason = "each manual uses its own part of this")]
#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use document::Source;
use garment::{Recipe, Replayed};

/// Pages and pictures by the names of their files.
pub(crate) type Pages = BTreeMap<String, String>;

/// The root of the project.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// An invented body of a common size.
pub(crate) fn body() -> body::Body {
    let path = root().join("examples/bodies/cellist.kdl");
    let text = fs::read_to_string(path).expect("the example is part of the project");
    body::complete(&body::read(&Source::new("body.kdl", text)).expect("the example is sound"))
}

/// A garment of these lines, drafted for that body; `what` names the example where it has a slip.
pub(crate) fn garment(lines: &str, what: &str) -> Replayed {
    let text = format!("garment \"Example\" {{\n{lines}\n}}");
    let body = body();
    let opened = garment::recipe::open(&Source::new("example.kdl", text), &mut |_, _| {
        unreachable!("the block stands on no other garment")
    });
    let recipe: Result<Recipe, _> = opened.and_then(|opened| opened.recipe(&body));
    let recipe = recipe.unwrap_or_else(|slips| panic!("the example of {what}: {slips:#?}"));
    Replayed::new(&recipe, &body)
        .unwrap_or_else(|finding| panic!("the example of {what}: {finding:#?}"))
}

/// The parts of a module's text in paragraphs of their own.
pub(crate) fn paragraphs(text: &str) -> Vec<String> {
    let text = text.trim().replace("\n**", "\n\n**");
    let text = text.replace("\n\n\n", "\n\n");
    text.split("\n\n").map(str::to_owned).collect()
}

/// The line between backticks in the example of a module's text.
pub(crate) fn example(text: &str) -> Option<String> {
    let text = text.replace('\n', " ");
    let (_, rest) = text.split_once("**Example.**")?;
    rest.split('`').nth(1).map(str::to_owned)
}

/// The words with a capital.
pub(crate) fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

/// Holds the pages of a folder of docs to what the program says; writes them anew where that is asked for.
pub(crate) fn check(folder: &str, pages: &Pages, command: &str) {
    let path = root().join(folder);
    if std::env::var_os("NOTCHBOOK_WRITE").is_some() {
        write(&path, pages);
    }
    let there = there(&path);
    for name in pages.keys().chain(there.keys()) {
        assert!(
            pages.get(name) == there.get(name),
            "{folder}/{name} is not what the program says; write it anew: {command}"
        );
    }
}

fn write(folder: &Path, pages: &Pages) {
    fs::create_dir_all(folder).expect("the folder can be made");
    let there = there(folder);
    for old in there.keys().filter(|name| !pages.contains_key(*name)) {
        fs::remove_file(folder.join(old)).expect("an old page can be removed");
    }
    for (name, text) in pages {
        fs::write(folder.join(name), text).expect("the page can be written");
    }
}

/// The files of a folder by their names.
pub(crate) fn there(folder: &Path) -> Pages {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let read = |entry: fs::DirEntry| {
        let text = fs::read_to_string(entry.path()).unwrap_or_default();
        (entry.file_name().to_string_lossy().into_owned(), text)
    };
    entries.map(read).collect()
}
