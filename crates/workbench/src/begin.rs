//! The first pages of a book: the demo's bodies and garments, or a body of one's own and a block for it.
//!
//! Invariant: nothing that is in the book is ever replaced.

use book::{Document, Kind, Name, RevisionId};
use making::words::spoken;

use crate::desk::Desk;
use crate::http::answer::{Answer, Problem};
use crate::rewrite::quoted;

/// The demo: an amateur cellist's block and concert dress, a linen summer dress and a plain skirt, for invented bodies, and the
/// cloths from which they are cut.
const DEMO: [(&str, Kind, &str); 13] = [
    (
        "bodies/cellist.kdl",
        Kind::Body,
        include_str!("../../../examples/bodies/cellist.kdl"),
    ),
    (
        "bodies/linen.kdl",
        Kind::Body,
        include_str!("../../../examples/bodies/linen.kdl"),
    ),
    (
        "bodies/skirt.kdl",
        Kind::Body,
        include_str!("../../../examples/bodies/skirt.kdl"),
    ),
    (
        "cloths/black-wool-crepe.kdl",
        Kind::Cloth,
        include_str!("../../../examples/cloths/black-wool-crepe.kdl"),
    ),
    (
        "cloths/cotton-lawn.kdl",
        Kind::Cloth,
        include_str!("../../../examples/cloths/cotton-lawn.kdl"),
    ),
    (
        "cloths/woven-interfacing.kdl",
        Kind::Cloth,
        include_str!("../../../examples/cloths/woven-interfacing.kdl"),
    ),
    (
        "cloths/washed-linen.kdl",
        Kind::Cloth,
        include_str!("../../../examples/cloths/washed-linen.kdl"),
    ),
    (
        "cloths/grey-wool-flannel.kdl",
        Kind::Cloth,
        include_str!("../../../examples/cloths/grey-wool-flannel.kdl"),
    ),
    (
        "cloths/viscose-twill.kdl",
        Kind::Cloth,
        include_str!("../../../examples/cloths/viscose-twill.kdl"),
    ),
    (
        "cellist-block.kdl",
        Kind::Block,
        include_str!("../../../examples/cellist-block.kdl"),
    ),
    (
        "concert-dress.kdl",
        Kind::Garment,
        include_str!("../../../examples/concert-dress.kdl"),
    ),
    (
        "linen-dress.kdl",
        Kind::Garment,
        include_str!("../../../examples/linen-dress.kdl"),
    ),
    (
        "plain-skirt.kdl",
        Kind::Garment,
        include_str!("../../../examples/plain-skirt.kdl"),
    ),
];

impl Desk {
    /// Puts the demo into the book, all of it or nothing.
    pub(crate) fn begin_demo(&mut self) -> Answer<()> {
        self.book.change(|batch| {
            let mut written: Vec<(Name, RevisionId)> = Vec::new();
            for (name, kind, text) in DEMO {
                let name = Name::new(name)?;
                let links: Vec<RevisionId> = written
                    .iter()
                    .filter(|(other, _)| {
                        !matches!(kind, Kind::Body | Kind::Cloth) && text.contains(other.as_str())
                    })
                    .map(|(_, id)| *id)
                    .collect();
                let id = batch.create(&name, kind, text, "the demo", &links)?;
                written.push((name, id));
            }
            Ok(())
        })
    }

    /// Begins a body under the name of whoever is to be taped, and a block for it.
    pub(crate) fn begin_own(&mut self, name: &str) -> Answer<Document> {
        let name = title(name, "Myself")?;
        let body = self.begin(
            ("bodies/", &name),
            Kind::Body,
            |_| body_text(&name),
            "begun",
        )?;
        self.begin(
            ("", &format!("{name} block")),
            Kind::Block,
            |own| {
                garment_text(
                    &format!("{name}: block"),
                    own,
                    &Base::Body(&body.name),
                    "block",
                )
            },
            "begun",
        )
    }

    /// Begins a garment for a body or on another garment.
    pub(crate) fn begin_garment(&mut self, wish: &Wish) -> Answer<Document> {
        let title = title(&wish.title, "Garment")?;
        let kind = match wish.kind.as_str() {
            "block" => Kind::Block,
            "dress" | "skirt" => Kind::Garment,
            other => {
                return Err(Problem::refused(
                    "kind-unknown",
                    format!("“{}” is no kind of garment.", spoken(other)),
                )
                .next("Choose block, dress or skirt."));
            }
        };
        let base = match wish.from.as_deref().filter(|from| !from.is_empty()) {
            Some(from) => self.document(from)?.name,
            None => self.document(&wish.body)?.name,
        };
        let is_garment = wish.from.as_deref().is_some_and(|from| !from.is_empty());
        self.begin(
            ("", &title),
            kind,
            |own| {
                let base = if is_garment {
                    Base::Garment(&base)
                } else {
                    Base::Body(&base)
                };
                garment_text(&title, own, &base, &wish.kind)
            },
            "begun",
        )
    }
}

/// A garment that is to be begun.
#[derive(Debug, serde::Deserialize)]
pub(crate) struct Wish {
    pub(crate) title: String,
    #[serde(default)]
    pub(crate) body: String,
    pub(crate) from: Option<String>,
    pub(crate) kind: String,
}

/// On what a garment is begun.
enum Base<'a> {
    Body(&'a Name),
    Garment(&'a Name),
}

/// What a person calls something, or the usual word where they say nothing.
fn title(given: &str, usual: &str) -> Answer<String> {
    let title = making::words::printable(given).replace('\n', " ");
    let title = title.trim();
    if title.chars().count() > 60 {
        return Err(
            Problem::refused("name-too-long", "The name is longer than 60 letters.")
                .next("Give it a shorter name; a note may tell more."),
        );
    }
    Ok(if title.is_empty() { usual } else { title }.to_owned())
}

fn body_text(name: &str) -> String {
    format!(
        "// Every measure stands in quotes with its unit: \"92 cm\", \"36 1/4 in\". Measures that are not here are estimated.\n\
         body {} {{\n    note \"begun in the workbench\"\n}}\n",
        quoted(name)
    )
}

fn garment_text(title: &str, own: &Name, base: &Base<'_>, kind: &str) -> String {
    let stands = match base {
        Base::Body(name) => format!("body {}", quoted(&relative(own, name))),
        Base::Garment(name) => format!("based-on {}", quoted(&relative(own, name))),
    };
    let parts = match (base, kind) {
        (Base::Garment(_), _) => "",
        (_, "skirt") => "\n    skirt \"straight\" length=\"600 mm\"\n    waistband\n",
        (_, "dress") => {
            "\n    bodice {\n        bust-dart \"side\"\n        neckline \"round\" depth=\"30 mm\" width=\"20 mm\"\n    }\n    \
             sleeve\n    skirt \"a-line\" length=\"650 mm\"\n"
        }
        _ => {
            "\n    bodice {\n        bust-dart \"side\"\n    }\n    sleeve\n    skirt \"straight\" length=\"600 mm\"\n"
        }
    };
    format!(
        "garment {} {{\n    version \"1\"\n    {stands}\n{parts}}}\n",
        quoted(title)
    )
}

/// A name of the book as it is written in a document: from the folder of that one.
fn relative(own: &Name, other: &Name) -> String {
    let up = own.as_str().matches('/').count();
    format!("{}{}", "../".repeat(up), other.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_found_from_any_folder() {
        let name = |text: &str| Name::new(text).expect("it is safe");
        for own in ["a.kdl", "x/a.kdl", "x/y/a.kdl"] {
            let (own, other) = (name(own), name("bodies/b.kdl"));
            assert_eq!(own.beside(&relative(&own, &other)), Some(other));
        }
    }
}
