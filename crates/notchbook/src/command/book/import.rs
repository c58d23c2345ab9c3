//! Files into the book: texts under their names, or a whole exported history; all of it or nothing.
//!
//! Invariants: a text is kept byte for byte; what a garment names comes in before it, so that its revision can say on
//! which revisions it was drafted.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use book::{Batch, Book, Fault, HISTORY, Kind, Name, RevisionId};
use document::{Finding, Source};
use making::words::{count, table};
use making::{Shelf, kind};

use super::{Done, finding, one, shelf};
use crate::arguments::ImportArguments;
use crate::{Exit, Said, files};

/// Folders may stand in each other as deep as this; a link that leads back to a folder above it comes to an end.
const DEEPEST: usize = 16;

/// The largest history that is read, bytes: a million revisions have some 300 MB.
const LARGEST_HISTORY: u64 = 1 << 30;

/// A text on its way in.
struct Incoming {
    name: Name,
    text: String,
    /// As it was called where it comes from.
    path: PathBuf,
}

/// What became of a text.
enum Became {
    New,
    Changed,
    AsItWas,
}

/// Runs the command.
pub(super) fn run(path: &Path, arguments: &ImportArguments) -> Done {
    if let [folder] = arguments.paths.as_slice()
        && folder.join(HISTORY).is_file()
    {
        return whole(path, folder);
    }
    let incoming = incoming(arguments)?;
    let kinds = kinds(&there(path)?, &incoming, arguments.kind)?;
    let mut book = Book::open_or_begin(path).map_err(one)?;
    let order = order(&book, &incoming, &kinds);
    let mut lines = Vec::new();
    book.change(|batch| {
        for name in &order {
            let incoming = &incoming[name];
            let links = links(batch, name, &incoming.text, kinds[name])?;
            lines.push(put(batch, incoming, kinds[name], &links, arguments)?);
        }
        Ok(())
    })
    .map_err(one)?;
    Ok(Said::out(summary(&book, &lines), Exit::Clean))
}

/// Takes an exported history in.
fn whole(path: &Path, folder: &Path) -> Done {
    let history = bounded(&folder.join(HISTORY))?;
    let mut book = Book::open_or_begin(path).map_err(one)?;
    let text_of = |file: &str| {
        let inside = Name::new(file).map_err(one)?;
        files::read_bytes(&folder.join(inside.as_str()), "a revision")
            .map_err(|finding| vec![finding])
    };
    let taken = book
        .import_all(&history, |file| text_of(file).map_err(Stopped))
        .map_err(|stopped| stopped.0)?;
    let out = format!(
        "Imported into {}: {} with all history, {}.\n",
        book.path().display(),
        count(taken.documents, "document"),
        count(taken.revisions, "revision")
    );
    Ok(Said::out(out, Exit::Clean))
}

/// What stopped an import.
struct Stopped(Vec<Finding>);

impl From<Fault> for Stopped {
    fn from(fault: Fault) -> Self {
        Self(one(fault))
    }
}

/// The history of an export, which is longer than a text may be.
fn bounded(path: &Path) -> Result<Vec<u8>, Vec<Finding>> {
    let unread = |what: String| one(Fault::History { what });
    let length = fs::metadata(path).map_or(0, |there| there.len());
    if length > LARGEST_HISTORY {
        return Err(unread(format!(
            "{} is larger than any history",
            path.display()
        )));
    }
    fs::read(path).map_err(|fault| unread(format!("{} cannot be read ({fault})", path.display())))
}

/// Every text that the paths name, by the name that it will have.
fn incoming(arguments: &ImportArguments) -> Result<BTreeMap<Name, Incoming>, Vec<Finding>> {
    let mut findings = Vec::new();
    let mut found: BTreeMap<Name, Incoming> = BTreeMap::new();
    for (name, path) in named_files(&arguments.paths, &mut findings) {
        let name = match &arguments.into {
            Some(folder) => format!("{}/{name}", folder.trim_end_matches('/')),
            None => name,
        };
        match read(&name, &path) {
            Ok(one) => {
                if let Some(before) = found.get(&one.name) {
                    findings.push(given_twice(before, &one));
                }
                found.insert(one.name.clone(), one);
            }
            Err(finding) => findings.push(finding),
        }
    }
    if findings.is_empty() && found.is_empty() {
        findings.push(nothing_found(&arguments.paths));
    }
    if findings.is_empty() {
        Ok(found)
    } else {
        Err(findings)
    }
}

fn read(name: &str, path: &Path) -> Result<Incoming, Finding> {
    let name = Name::new(name).map_err(|fault| finding(&fault))?;
    let bytes = files::read_bytes(path, "a document")?;
    // Another encoding is told with its place.
    Source::from_bytes(path.display().to_string(), bytes.clone())?;
    let text = String::from_utf8(bytes).expect("it was read as UTF-8 in the line before");
    let path = path.to_owned();
    Ok(Incoming { name, text, path })
}

/// The files that the paths name, each with its name from the folder that was given.
fn named_files(paths: &[PathBuf], findings: &mut Vec<Finding>) -> Vec<(String, PathBuf)> {
    let mut files = Vec::new();
    for path in paths {
        if path.is_dir() {
            gather(path, "", &mut files, findings, DEEPEST);
        } else {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            files.push((name.into_owned(), path.clone()));
        }
    }
    files
}

/// All texts in a folder and those in it, but for hidden ones.
fn gather(
    folder: &Path,
    prefix: &str,
    files: &mut Vec<(String, PathBuf)>,
    findings: &mut Vec<Finding>,
    deeper: usize,
) {
    let entries = match fs::read_dir(folder) {
        Ok(entries) if deeper > 0 => entries,
        Ok(_) => return findings.push(too_deep(folder)),
        Err(fault) => return findings.push(no_list(folder, &fault)),
    };
    let mut paths: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .collect();
    paths.sort();
    for path in paths {
        let file = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let name = format!("{prefix}{file}");
        if file.starts_with('.') {
            continue;
        }
        if path.is_dir() {
            gather(&path, &format!("{name}/"), files, findings, deeper - 1);
        } else if path.extension().is_some_and(|ending| ending == "kdl") {
            files.push((name, path));
        }
    }
}

/// The documents of the book and their kinds; none where there is no book yet, which is not begun for this.
fn there(path: &Path) -> Result<BTreeMap<Name, Kind>, Vec<Finding>> {
    let documents = match Book::open(path) {
        Ok(book) => book.documents().map_err(one)?,
        Err(Fault::Missing { .. }) => Vec::new(),
        Err(fault) => return Err(one(fault)),
    };
    let kinds = documents.into_iter().map(|one| (one.name, one.kind));
    Ok(kinds.collect())
}

/// What each text is about: as it was said, as the book has it, or as its first word says.
fn kinds(
    there: &BTreeMap<Name, Kind>,
    incoming: &BTreeMap<Name, Incoming>,
    said: Option<Kind>,
) -> Result<BTreeMap<Name, Kind>, Vec<Finding>> {
    let (mut kinds, mut findings) = (BTreeMap::new(), Vec::new());
    for (name, one) in incoming {
        let kind = match (said, there.get(name)) {
            (Some(said), Some(there)) if said != *there => {
                Err(vec![other_kind(name, said, *there)])
            }
            (Some(kind), _) | (None, Some(&kind)) => Ok(kind),
            (None, None) => recognised(one),
        };
        match kind {
            Ok(kind) => drop(kinds.insert(name.clone(), kind)),
            Err(wrong) => findings.extend(wrong),
        }
    }
    if findings.is_empty() {
        Ok(kinds)
    } else {
        Err(findings)
    }
}

fn recognised(incoming: &Incoming) -> Result<Kind, Vec<Finding>> {
    let path = incoming.path.display().to_string();
    let source =
        Source::from_bytes(path, incoming.text.clone().into_bytes()).map_err(|one| vec![one])?;
    let word = kind::first_word(&source)?;
    word.parse()
        .map_err(|_| vec![not_recognised(&source, &word)])
}

/// Texts that are named by others come before these.
fn order(
    book: &Book,
    incoming: &BTreeMap<Name, Incoming>,
    kinds: &BTreeMap<Name, Kind>,
) -> Vec<Name> {
    let mut shelf = Both {
        newest: &|name| newest_text(book, name),
        incoming,
    };
    let mut order = Order {
        done: BTreeSet::new(),
        order: Vec::new(),
    };
    for name in incoming.keys() {
        order.visit(name, &mut |name| match kinds.get(name) {
            Some(Kind::Garment | Kind::Block) => names_in(&mut shelf, name, &incoming[name].text),
            _ => Vec::new(),
        });
    }
    order.order.retain(|name| incoming.contains_key(name));
    order.order
}

/// A walk through what names what, deepest first; a circle is cut where it is entered.
struct Order {
    done: BTreeSet<Name>,
    order: Vec<Name>,
}

impl Order {
    fn visit(&mut self, name: &Name, named: &mut dyn FnMut(&Name) -> Vec<Name>) {
        if self.done.insert(name.clone()) {
            for one in named(name) {
                self.visit(&one, named);
            }
            self.order.push(name.clone());
        }
    }
}

fn newest_text(book: &Book, name: &Name) -> Option<String> {
    book.text(book.document(name).ok()?.newest).ok()
}

/// The texts that come in, and behind them those of the book.
struct Both<'a> {
    newest: &'a dyn Fn(&Name) -> Option<String>,
    incoming: &'a BTreeMap<Name, Incoming>,
}

impl Shelf for Both<'_> {
    fn text(&mut self, name: &str, _what: &str) -> Result<Arc<Source>, Finding> {
        let document = Name::new(name).map_err(|fault| finding(&fault))?;
        let own = self.incoming.get(&document).map(|one| one.text.clone());
        let text = own.or_else(|| (self.newest)(&document));
        let text = text.ok_or_else(|| finding(&Fault::NoDocument { name: document }))?;
        Source::from_bytes(name, text.into_bytes())
    }

    fn beside(&self, from: &str, name: &str) -> String {
        shelf::beside(from, name)
    }
}

fn names_in(shelf: &mut dyn Shelf, name: &Name, text: &str) -> Vec<Name> {
    let Ok(source) = Source::from_bytes(name.as_str(), text.as_bytes().to_vec()) else {
        return Vec::new();
    };
    let named = kind::named(shelf, &source);
    named
        .into_iter()
        .filter_map(|name| Name::new(name).ok())
        .collect()
}

/// The newest revisions of what a text names, as far as that is in the book.
fn links(batch: &Batch<'_>, name: &Name, text: &str, kind: Kind) -> Result<Vec<RevisionId>, Fault> {
    if !matches!(kind, Kind::Garment | Kind::Block) {
        return Ok(Vec::new());
    }
    let newest_text = |name: &Name| batch.text(batch.newest(name).ok()?.id).ok();
    let mut shelf = Both {
        newest: &newest_text,
        incoming: &BTreeMap::new(),
    };
    let mut links = Vec::new();
    for named in names_in(&mut shelf, name, text) {
        match batch.newest(&named) {
            Ok(newest) if named != *name => links.push(newest.id),
            Ok(_) | Err(Fault::NoDocument { .. }) => {}
            Err(fault) => return Err(fault),
        }
    }
    Ok(links)
}

/// Writes a text into the book, unless it stands there already.
fn put(
    batch: &mut Batch<'_>,
    incoming: &Incoming,
    kind: Kind,
    links: &[RevisionId],
    arguments: &ImportArguments,
) -> Result<(Name, Kind, Became), Fault> {
    let file = incoming
        .path
        .file_name()
        .unwrap_or_default()
        .to_string_lossy();
    let usual = format!("imported from {file}");
    let reason = arguments.reason.as_deref().unwrap_or(&usual);
    let Incoming { name, text, .. } = incoming;
    let became = match batch.newest(name) {
        Ok(newest) if batch.text(newest.id)? == *text => Became::AsItWas,
        Ok(newest) => {
            batch.add(name, newest.id, text, reason, links)?;
            Became::Changed
        }
        Err(Fault::NoDocument { .. }) => {
            batch.create(name, kind, text, reason, links)?;
            Became::New
        }
        Err(fault) => return Err(fault),
    };
    Ok((name.clone(), kind, became))
}

fn summary(book: &Book, lines: &[(Name, Kind, Became)]) -> String {
    let rows = lines.iter().map(|(name, kind, became)| {
        let became = match became {
            Became::New => "new",
            Became::Changed => "changed",
            Became::AsItWas => "as it was",
        };
        vec![kind.word().to_owned(), name.to_string(), became.to_owned()]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    let documents = count(lines.len(), "document");
    format!(
        "Imported into {}: {documents}.\n\n{}",
        book.path().display(),
        table(&rows, &[])
    )
}

fn given_twice(before: &Incoming, after: &Incoming) -> Finding {
    let message = format!(
        "The files {} and {} would both be called {}.",
        before.path.display(),
        after.path.display(),
        after.name
    );
    Finding::error("document-given-twice", message)
        .allowed("files of different names")
        .cure("Import them one by one, with --into FOLDER.")
}

fn nothing_found(paths: &[PathBuf]) -> Finding {
    let shown: Vec<String> = paths
        .iter()
        .map(|path| path.display().to_string())
        .collect();
    Finding::error(
        "nothing-to-import",
        format!("There is no text in {}.", shown.join(", ")),
    )
    .allowed("files with the ending .kdl, or a folder with some")
    .cure("See whether the right folder was named.")
}

fn not_recognised(source: &Arc<Source>, word: &str) -> Finding {
    let message = format!(
        "{} begins with “{word}”, which is not a kind of document.",
        source.name
    );
    Finding::error("kind-unknown", message)
        .allowed(format!(
            "a text that begins with one of: {}",
            Kind::ALL.map(Kind::word).join(", ")
        ))
        .because("Nothing was imported.")
        .cure("Import this one by itself and say what it is about: --kind garment.")
}

fn other_kind(name: &Name, said: Kind, there: Kind) -> Finding {
    Finding::error(
        "kind-differs",
        format!("{name} is in the book as {there}, and {said} was asked for."),
    )
    .allowed(format!("--kind {there}, or another name"))
    .because("A document stays what it was begun as.")
    .cure("Take --kind away.")
}

fn too_deep(folder: &Path) -> Finding {
    let message = format!(
        "{} lies more than {DEEPEST} folders deep.",
        folder.display()
    );
    Finding::error("folders-too-deep", message)
        .allowed(format!("at most {DEEPEST} folders in each other"))
        .cure("See whether a link leads back to a folder above it.")
}

fn no_list(folder: &Path, fault: &std::io::Error) -> Finding {
    let message = format!(
        "The folder {} cannot be listed ({fault}).",
        folder.display()
    );
    Finding::error("folder-not-readable", message)
        .allowed("a folder that you may read")
        .cure("Give yourself leave to read it, or name another one.")
}
