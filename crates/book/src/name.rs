//! Names of documents: relative paths with slashes, such as `bodies/cellist.kdl`.
//!
//! Invariant: any name can be written as a file below any folder, on every system, and never outside of that folder.

use std::fmt;
use std::str::FromStr;

use crate::Fault;

/// The longest name, bytes: with a folder before it, it fits the 260 letters that Windows gives a path by default.
const LONGEST: usize = 160;

/// Signs that Windows refuses in names of files.
/// Source: Microsoft, *Naming Files, Paths, and Namespaces*.
const REFUSED_SIGNS: [char; 8] = ['\\', ':', '*', '?', '"', '<', '>', '|'];

/// Names that Windows keeps for devices, with any ending; the same source.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// The name of a document, such as `bodies/cellist.kdl`: a relative path with slashes that stays inside its folder.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Name(String);

impl Name {
    /// A name, or [`Fault::UnsafeName`] with what is wrong with it.
    pub fn new(name: impl Into<String>) -> Result<Self, Fault> {
        let name = name.into();
        match wrong_with(&name) {
            None => Ok(Self(name)),
            Some(why) => Err(Fault::UnsafeName { name, why }),
        }
    }

    /// The name as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The name that a text of this document means by a relative path: from its own folder, with `..` worked out.
    ///
    /// `None` where the path leaves the book or cannot be a name.
    ///
    /// ```
    /// let dress = book::Name::new("concert/dress.kdl")?;
    /// let body = dress.beside("../bodies/cellist.kdl");
    /// assert_eq!(body, Some(book::Name::new("bodies/cellist.kdl")?));
    /// # Ok::<(), book::Fault>(())
    /// ```
    pub fn beside(&self, path: &str) -> Option<Self> {
        let mut parts: Vec<&str> = self.0.split('/').collect();
        parts.pop();
        for part in path.split(['/', '\\']) {
            match part {
                "." => {}
                ".." => {
                    parts.pop()?;
                }
                part => parts.push(part),
            }
        }
        Self::new(parts.join("/")).ok()
    }

    /// The same name for systems that do not tell capitals from small letters.
    pub(crate) fn folded(&self) -> String {
        self.0.to_lowercase()
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl FromStr for Name {
    type Err = Fault;

    fn from_str(name: &str) -> Result<Self, Fault> {
        Self::new(name)
    }
}

fn wrong_with(name: &str) -> Option<&'static str> {
    if name.is_empty() {
        return Some("it is empty");
    }
    if name.len() > LONGEST {
        return Some("it is longer than 160 letters");
    }
    if name.starts_with('/') {
        return Some("it begins with a slash");
    }
    name.split('/').find_map(wrong_with_part)
}

fn wrong_with_part(part: &str) -> Option<&'static str> {
    let stem = part.split('.').next().unwrap_or_default().to_lowercase();
    if part.is_empty() {
        Some("two slashes follow each other, or it ends with one")
    } else if part.starts_with('.') {
        Some("a part of it begins with a dot")
    } else if part.ends_with(['.', ' ']) || part.starts_with(' ') {
        Some("a part of it ends with a dot or a space, or begins with a space")
    } else if part.chars().any(char::is_control) || part.contains(REFUSED_SIGNS) {
        Some(r#"one of the signs \ : * ? " < > | or a control sign stands in it"#)
    } else if DEVICES.contains(&stem.as_str()) || is_port(&stem) {
        Some("a part of it is a name that some systems keep for a device")
    } else {
        None
    }
}

/// COM1 to COM9 and LPT1 to LPT9.
fn is_port(stem: &str) -> bool {
    let number = stem
        .strip_prefix("com")
        .or_else(|| stem.strip_prefix("lpt"));
    number.is_some_and(|number| number.len() == 1 && number.as_bytes()[0].is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stay_inside_their_folder() {
        for good in ["dress.kdl", "bodies/cellist.kdl", "a b/ä.kdl", "common.kdl"] {
            assert_eq!(Name::new(good).expect("it is safe").as_str(), good);
        }
        for bad in [
            "",
            "/etc/x.kdl",
            "../x.kdl",
            "a/../x.kdl",
            "a//b",
            "a/",
            "./a",
            ".a",
            "C:x.kdl",
            "a\\b",
            "a\u{0}",
            "a\n",
            "nul",
            "NUL.kdl",
            "x/Com1.kdl",
            "a.",
            "a ",
            " a",
            "what?.kdl",
        ] {
            assert!(
                matches!(Name::new(bad), Err(Fault::UnsafeName { .. })),
                "{bad:?} is not safe"
            );
        }
        assert!(Name::new("x".repeat(161)).is_err());
    }

    #[test]
    fn paths_in_a_text_lead_from_its_folder() {
        let name = |text: &str| Name::new(text).expect("it is safe");
        let dress = name("garments/dress.kdl");
        assert_eq!(dress.beside("base.kdl"), Some(name("garments/base.kdl")));
        assert_eq!(dress.beside("./../x/base.kdl"), Some(name("x/base.kdl")));
        assert_eq!(dress.beside("..\\x.kdl"), Some(name("x.kdl")));
        assert_eq!(dress.beside("../../x.kdl"), None);
        assert_eq!(dress.beside("/x.kdl"), None);
    }
}
