//! A garment and its body from files of a disk.

use std::path::Path;
use std::sync::Arc;

use body::Tape;
use cloth::goods::Cloth;
use document::{Finding, Source};
use making::draft::{self, Draft, Shelf, Texts, Wanted};

use crate::arguments::Given;
use crate::files;

/// The files of a disk, by their paths.
pub(crate) struct Disk;

impl Shelf for Disk {
    fn text(&mut self, name: &str, what: &str) -> Result<Arc<Source>, Finding> {
        files::read(Path::new(name), what)
    }
}

/// Reads, drafts and checks.
pub(crate) fn draft(given: &Given) -> Result<Draft, Vec<Finding>> {
    with_wanted(given, |wanted| draft::draft(&mut Disk, wanted))
}

/// The same as if this text stood in the garment's file.
pub(crate) fn draft_text(given: &Given, source: &Arc<Source>) -> Result<Draft, Vec<Finding>> {
    with_wanted(given, |wanted| draft::draft_text(&mut Disk, wanted, source))
}

fn with_wanted<T>(given: &Given, call: impl FnOnce(&Wanted<'_>) -> T) -> T {
    let body = given.body.as_ref().map(|path| path.to_string_lossy());
    call(&Wanted {
        garment: &given.garment.to_string_lossy(),
        body: body.as_deref(),
        even_so: given.even_so,
    })
}

/// The texts of a garment.
pub(crate) fn texts(path: &Path) -> Result<Texts, Vec<Finding>> {
    draft::texts(&mut Disk, &path.to_string_lossy())
}

/// Reads a body.
pub(crate) fn read_body(path: &Path) -> Result<Tape, Vec<Finding>> {
    draft::read_body(&mut Disk, &path.to_string_lossy())
}

/// Reads a cloth.
pub(crate) fn read_cloth(path: &Path) -> Result<Cloth, Vec<Finding>> {
    draft::read_cloth(&mut Disk, &path.to_string_lossy())
}
