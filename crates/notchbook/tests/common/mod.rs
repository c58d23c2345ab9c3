//! A folder of its own for each test, and the program run in it.

#![allow(dead_code, reason = "each test file uses its own part of this")]

pub(crate) mod faults;
pub(crate) mod sources;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A folder that is there for one test, empty at its start.
pub(crate) struct Table {
    folder: PathBuf,
}

impl Table {
    /// A folder under the build folder, called as the test is.
    pub(crate) fn new(name: &str) -> Self {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        if folder.exists() {
            fs::remove_dir_all(&folder).expect("the folder of an earlier run can be removed");
        }
        fs::create_dir_all(&folder).expect("the build folder can be written");
        Self { folder }
    }

    /// A folder with a garment and a body that go together.
    pub(crate) fn laid(name: &str) -> Self {
        Self::new(name)
            .with("dress.kdl", DRESS)
            .with("body.kdl", BODY)
    }

    /// The folder with one more file.
    pub(crate) fn with(self, name: &str, text: impl AsRef<[u8]>) -> Self {
        fs::write(self.path(name), text).expect("the folder can be written");
        self
    }

    /// A path in the folder.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// What the program says with these arguments, run in the folder.
    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_notchbook"))
            .args(arguments)
            .current_dir(&self.folder)
            .output()
            .expect("the program is built and can be run")
    }

    /// Exit code and words of the program, as one text.
    pub(crate) fn said(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        let out = String::from_utf8(output.stdout).expect("words are UTF-8");
        let err = String::from_utf8(output.stderr).expect("words are UTF-8");
        let code = output.status.code().expect("the program was not killed");
        let part = |name: &str, words: &str| {
            if words.is_empty() {
                String::new()
            } else {
                format!("--- {name}\n{words}")
            }
        };
        format!("exit {code}\n{}{}", part("out", &out), part("err", &err))
    }

    /// Names of everything in the folder, hidden or not, with a stroke behind folders.
    pub(crate) fn names(&self, folder: &str) -> Vec<String> {
        let entries = fs::read_dir(self.path(folder)).expect("the folder is there");
        let mut names: Vec<String> = entries
            .map(|entry| entry.expect("the folder can be listed").file_name())
            .map(|name| name.to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    /// The bytes of a file.
    pub(crate) fn bytes(&self, name: &str) -> Vec<u8> {
        fs::read(self.path(name)).expect("the file is there")
    }
}

/// A dress with everything that a recipe has.
pub(crate) const DRESS: &str = r#"garment "Dress" {
    date "2026-11-24"
    body "body.kdl"
    ease {
        bust "60 mm"
        waist "30 mm"
    }
    bodice {
        bust-dart "side"
        neckline "round" depth="20 mm" width="10 mm"
    }
    sleeve ease="60 mm"
    skirt "straight" length="600 mm"
}
"#;

/// An invented body with the measures that the dress needs.
pub(crate) const BODY: &str = r#"body "Imke" {
    bust "92 cm"
    upper-chest "88 cm"
    waist "74 cm"
    hip "99 cm"
    neck-base "37 cm"
    shoulder-length "12.5 cm"
    across-back "36 cm"
    across-front "33 cm"
    bust-point-width "18.5 cm"
    neck-to-bust-point "26.5 cm"
    back-waist-length "40.5 cm"
    front-waist-length "43 cm"
    waist-to-hip "20 cm"
    upper-arm "29 cm"
    arm-length "58 cm"
}
"#;
