//! Files: read whole within a limit, written whole or not at all.
//!
//! Knows nothing of what stands in them. Invariants: a file that cannot be read or written is a finding with its path and
//! the next step; where something cannot be written, every file that was there before is as it was.

use std::collections::BTreeSet;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use document::{Finding, Source};

/// The largest file that is read, bytes; what a person writes by hand is a hundredth of it.
const LARGEST: u64 = 1 << 20;

/// Reads a text file; `what` says what should be in it, such as "a garment".
pub(crate) fn read(path: &Path, what: &str) -> Result<Arc<Source>, Finding> {
    Source::from_bytes(path.display().to_string(), read_bytes(path, what)?)
}

/// Reads the bytes of a text file as they are.
pub(crate) fn read_bytes(path: &Path, what: &str) -> Result<Vec<u8>, Finding> {
    let name = path.display().to_string();
    let bytes = bytes(path).map_err(|fault| unread(&name, what, &fault))?;
    if bytes.len() as u64 > LARGEST {
        return Err(too_large(&name, what));
    }
    if bytes.contains(&0) && !bytes.starts_with(&[0xFF, 0xFE]) && !bytes.starts_with(&[0xFE, 0xFF])
    {
        return Err(no_text(&name, what));
    }
    Ok(bytes)
}

/// The bytes of a file, or one more than the largest that is read.
fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    if fs::metadata(path)?.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    let mut bytes = Vec::new();
    File::open(path)?
        .take(LARGEST + 1)
        .read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Writes all files into a folder, which is made where it is not there: all of them or none.
///
/// Names may be paths with slashes: the folders in between are made too.
/// Each is written under a name of its own beside its place, and brought to the disk; only when all are there do they
/// take their places.
pub(crate) fn write_all(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Finding> {
    let mut made = make_folder(folder)?;
    let result = make_folders_within(folder, files, &mut made)
        .and_then(|()| places_are_free(folder, files))
        .and_then(|()| put(folder, files));
    if result.is_err() {
        remove_folders(&made);
    }
    result
}

/// The names that are there already, of those given.
pub(crate) fn already_there<'a>(folder: &Path, names: &[&'a str]) -> Vec<&'a str> {
    let is_there = |name: &&&str| fs::symlink_metadata(folder.join(name)).is_ok();
    names.iter().filter(is_there).copied().collect()
}

/// Makes a folder and those above it; returns the ones that were made, outermost first.
fn make_folder(folder: &Path) -> Result<Vec<PathBuf>, Finding> {
    let missing = folder
        .ancestors()
        .take_while(|one| !one.as_os_str().is_empty() && !one.exists());
    let mut missing: Vec<PathBuf> = missing.map(Path::to_owned).collect();
    missing.reverse();
    fs::create_dir_all(folder).map_err(|fault| {
        remove_folders(&missing);
        no_folder(folder, &fault)
    })?;
    Ok(missing)
}

/// Makes the folders that the names of the files ask for, and notes them behind those that were made.
fn make_folders_within(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    made: &mut Vec<PathBuf>,
) -> Result<(), Finding> {
    for inner in folders_of(folder, files) {
        made.extend(make_folder(&inner)?);
    }
    Ok(())
}

/// The folders in which the files will lie, each once.
fn folders_of(folder: &Path, files: &[(String, Vec<u8>)]) -> BTreeSet<PathBuf> {
    let places = files.iter().map(|(name, _)| folder.join(name));
    places
        .filter_map(|place| place.parent().map(Path::to_owned))
        .collect()
}

/// Removes folders that are empty, innermost first.
fn remove_folders(made: &[PathBuf]) {
    for folder in made.iter().rev() {
        // One that is not empty, or was never made, stays as it is.
        let _ = fs::remove_dir(folder);
    }
}

/// Nothing but a file may stand where a file is to be put.
fn places_are_free(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Finding> {
    for (name, _) in files {
        let place = folder.join(name);
        if fs::metadata(&place).is_ok_and(|there| !there.is_file()) {
            return Err(unwritten(&place, &ErrorKind::IsADirectory.into()));
        }
    }
    Ok(())
}

fn put(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Finding> {
    let mut waiting: Vec<Waiting> = Vec::new();
    for (name, bytes) in files {
        let place = folder.join(name);
        let file =
            Waiting::beside(folder, name, bytes).map_err(|fault| unwritten(&place, &fault))?;
        waiting.push(file);
    }
    for file in waiting {
        let place = file.place.clone();
        file.take_place()
            .map_err(|fault| unwritten(&place, &fault))?;
    }
    // Not every system lets a folder be brought to the disk by itself; the files are there all the same.
    for folder in folders_of(folder, files) {
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
    Ok(())
}

/// A file that is written and waits beside its place; it is removed again where it never takes it.
struct Waiting {
    path: PathBuf,
    place: PathBuf,
}

impl Waiting {
    fn beside(folder: &Path, name: &str, bytes: &[u8]) -> io::Result<Self> {
        let place = folder.join(name);
        let file = place.file_name().unwrap_or_default().to_string_lossy();
        let waiting = Self {
            path: place.with_file_name(format!(".{file}.{}.part", std::process::id())),
            place,
        };
        let mut file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(true)
            .open(&waiting.path)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        Ok(waiting)
    }

    fn take_place(self) -> io::Result<()> {
        fs::rename(&self.path, &self.place)
    }
}

impl Drop for Waiting {
    fn drop(&mut self) {
        // Nothing is left to remove once the file has taken its place.
        let _ = fs::remove_file(&self.path);
    }
}

fn unread(name: &str, what: &str, fault: &io::Error) -> Finding {
    let (code, message, cure) = match fault.kind() {
        ErrorKind::NotFound => (
            "file-missing",
            format!("There is no file {name}."),
            "See whether its name and folder are spelled as given here.",
        ),
        ErrorKind::IsADirectory => (
            "file-is-folder",
            format!("There is a folder {name}, and a file is needed."),
            "Name a file in it.",
        ),
        ErrorKind::PermissionDenied => (
            "file-not-permitted",
            format!("You may not read the file {name}."),
            "Give yourself leave to read it, or copy it to a place of your own.",
        ),
        _ => (
            "file-not-readable",
            format!("The file {name} cannot be read: {}.", plain(fault)),
            "See whether the disk is still there, and try again.",
        ),
    };
    Finding::error(code, message)
        .allowed(format!("the path of a text file that describes {what}"))
        .cure(cure)
}

fn too_large(name: &str, what: &str) -> Finding {
    Finding::error(
        "file-too-large",
        format!(
            "The file {name} is larger than {} kilobytes.",
            LARGEST >> 10
        ),
    )
    .allowed(format!(
        "a text file that describes {what}: a few kilobytes"
    ))
    .cure("See whether the right file was named.")
}

fn no_text(name: &str, what: &str) -> Finding {
    Finding::error("file-not-text", format!("The file {name} is no text."))
        .allowed(format!("a text file that describes {what}, saved as UTF-8"))
        .cure("See whether the right file was named.")
}

fn no_folder(folder: &Path, fault: &io::Error) -> Finding {
    let name = folder.display();
    let (code, message, cure) = match fault.kind() {
        ErrorKind::AlreadyExists => (
            "folder-is-file",
            format!("There is a file {name}, and a folder is needed."),
            "Name another folder, or move the file away.",
        ),
        ErrorKind::NotADirectory => (
            "folder-is-file",
            format!("The folder {name} cannot be made: on the way to it is a file."),
            "Name another folder, or move the file away.",
        ),
        _ => (
            "folder-not-made",
            format!("The folder {name} cannot be made: {}.", plain(fault)),
            "Name a folder in a place of your own, such as --out papers.",
        ),
    };
    Finding::error(code, message)
        .allowed("a folder that is there, or can be made")
        .because("Nothing was written.")
        .cure(cure)
}

fn unwritten(place: &Path, fault: &io::Error) -> Finding {
    let name = place.display();
    let (code, message) = match fault.kind() {
        ErrorKind::IsADirectory => (
            "file-is-folder",
            format!(
                "The file {name} cannot be written: there is something of that name that is no file."
            ),
        ),
        ErrorKind::StorageFull => (
            "disk-full",
            format!("The file {name} cannot be written: the disk is full."),
        ),
        _ => (
            "file-not-written",
            format!("The file {name} cannot be written: {}.", plain(fault)),
        ),
    };
    Finding::error(code, message)
        .allowed("a folder with room, in which you may write")
        .because("The files that were there before are unchanged.")
        .cure("Make room there, or name another folder.")
}

/// What the system says, without its number.
fn plain(fault: &io::Error) -> String {
    match fault.kind() {
        ErrorKind::PermissionDenied => "you may not do that there".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read".to_owned(),
        _ => {
            let words = fault.to_string();
            words
                .split(" (os error")
                .next()
                .unwrap_or_default()
                .to_lowercase()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_fault_of_the_system_has_its_words() {
        let path = Path::new("papers/x");
        let faults = [
            ErrorKind::NotFound,
            ErrorKind::PermissionDenied,
            ErrorKind::ReadOnlyFilesystem,
            ErrorKind::StorageFull,
            ErrorKind::IsADirectory,
            ErrorKind::NotADirectory,
            ErrorKind::AlreadyExists,
            ErrorKind::TimedOut,
        ];
        let said = faults.map(|kind| {
            let fault = io::Error::from(kind);
            [
                unread("dress.kdl", "a garment", &fault),
                no_folder(path, &fault),
                unwritten(path, &fault),
            ]
            .map(|one| format!("{}: {} {}\n", one.code, one.message, one.cure))
            .concat()
        });
        insta::assert_snapshot!(said.join("\n"));
    }

    #[test]
    fn folders_that_were_made_for_nothing_are_removed() {
        let folder = std::env::temp_dir().join(format!("notchbook-files-{}", std::process::id()));
        fs::create_dir_all(folder.join("a/b/c.txt")).expect("the temporary folder can be written");
        let files = |name: &str| vec![("x.txt".to_owned(), vec![1]), (name.to_owned(), vec![2])];
        // A name that no system takes stands for a disk that refuses the second file.
        let refused = write_all(&folder.join("new/deep"), &files("\0"));
        assert_eq!(
            refused.expect_err("the name is refused").code,
            "file-not-written"
        );
        assert!(!folder.join("new").exists());
        let taken = write_all(&folder.join("a/b"), &files("c.txt"));
        assert_eq!(taken.expect_err("there is a folder").code, "file-is-folder");
        assert_eq!(
            already_there(&folder.join("a/b"), &["x.txt", "c.txt"]),
            ["c.txt"]
        );
        write_all(&folder.join("new/deep"), &files("y.txt")).expect("both can be written");
        assert_eq!(
            fs::read(folder.join("new/deep/y.txt")).expect("it is there"),
            [2]
        );
        fs::remove_dir_all(&folder).expect("it can be removed again");
    }
}
