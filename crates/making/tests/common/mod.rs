//! What the tests of this crate share: the demo's files, read from where they lie.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use cloth::goods::Cloth;
use document::{Finding, Source};
use making::draft::{Shelf, read_cloth};
use making::lays::Goods;
use pattern::Layer;

/// The folder of the demo.
pub(crate) fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// Files by their paths.
pub(crate) struct Disk;

impl Shelf for Disk {
    fn text(&mut self, name: &str, what: &str) -> Result<Arc<Source>, Finding> {
        let text = fs::read_to_string(name);
        text.map(|text| Source::new(name, text))
            .map_err(|fault| Finding::error("file-missing", format!("{name}, {what}: {fault}")))
    }
}

/// One of the demo's cloths.
pub(crate) fn cloth(name: &str) -> Cloth {
    let path = examples().join(format!("cloths/{name}.kdl"));
    let read = read_cloth(&mut Disk, path.to_str().expect("the path is UTF-8"));
    read.unwrap_or_else(|findings| panic!("{name}: {findings:#?}"))
}

/// A cloth for the outside.
pub(crate) fn shell(cloth: Cloth) -> Goods {
    Goods {
        cloth,
        layers: vec![Layer::Shell],
    }
}
