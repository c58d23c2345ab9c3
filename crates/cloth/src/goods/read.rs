//! The reader of cloth files: from text to a cloth.
//!
//! ```kdl
//! cloth "black wool crepe" {
//!     width "150 cm"
//!     selvedge "1 cm"
//!     length "3 m"
//!     price 24.5 currency="€" per="m"
//!     shrinkage along=3 across=2 // percent
//! }
//! ```
//!
//! Knows the words of such a file and their bounds. Invariant: all slips are told at once, each where it stands.

use std::ops::RangeInclusive;
use std::sync::Arc;

use document::{
    Entry, Finding, Source, Span, Value, check_properties, check_repeats, check_statements,
    given_twice, missing,
};
use geometry::Point;
use pattern::Fraying;

use super::{Bars, Cloth, Direction, Flaw, Price, Repeats, YARD};
use crate::nest::Unsound;

/// The statements of a cloth.
const STATEMENTS: [&str; 19] = [
    "note",
    "width",
    "selvedge",
    "length",
    "price",
    "sold-in",
    "nap",
    "one-way",
    "repeat",
    "shrinkage",
    "washed",
    "weight",
    "thickness",
    "bending-length",
    "stretch",
    "sides",
    "frays",
    "flaw",
    "outline",
];
/// The widest cloth that is woven for clothes, with room to spare, mm.
const WIDTHS: RangeInclusive<f64> = 50.0..=4000.0;
/// Lengths on hand, mm.
const LENGTHS: RangeInclusive<f64> = 10.0..=100_000.0;
/// Repeats, mm: below the least they are a texture, not a bar to match.
const REPEATS: RangeInclusive<f64> = 3.0..=1500.0;

/// Reads a cloth file; every slip in it is told in one go.
pub fn read(source: &Arc<Source>) -> Result<Cloth, Vec<Finding>> {
    let entries = document::parse(source)?;
    let mut findings = check_statements(&entries, &["cloth"]);
    let mut cloths = entries.iter().filter(|entry| entry.name() == "cloth");
    let Some(entry) = cloths.next() else {
        if findings.is_empty() {
            findings.push(no_cloth(source));
        }
        return Err(findings);
    };
    findings.extend(cloths.map(|second| {
        given_twice("statement-given-twice", "cloth", second.name_span())
            .at_text(entry.name_span(), "first given here")
            .because("A file describes one cloth.")
            .cure("Put the second cloth into a file of its own.")
    }));
    let mut reader = Reader { findings };
    let cloth = reader.cloth(entry);
    match cloth {
        Some(cloth) if reader.findings.is_empty() => Ok(cloth),
        _ => Err(reader.findings),
    }
}

fn no_cloth(source: &Arc<Source>) -> Finding {
    missing(
        "cloth-missing",
        "cloth",
        &Span::new(source, 0, 0),
        "cloth \"black wool crepe\" { width \"150 cm\" }",
    )
}

/// Gathers what is wrong while values are read.
struct Reader {
    findings: Vec<Finding>,
}

impl Reader {
    fn cloth(&mut self, entry: &Entry) -> Option<Cloth> {
        self.statements(entry);
        let name = entry
            .argument("the name of the cloth in quotes")
            .and_then(Value::text);
        let name = self.keep(name)?;
        let Some(line) = entry.child("width") else {
            self.findings.push(missing(
                "cloth-without-width",
                "width",
                entry.name_span(),
                "width \"150 cm\"",
            ));
            return None;
        };
        let width = self.length(line, &WIDTHS)?;
        let mut cloth = Cloth::plain(name, width);
        self.sizes(entry, &mut cloth);
        self.hand(entry, &mut cloth);
        self.pattern(entry, &mut cloth);
        self.places(entry, &mut cloth);
        self.has_room(entry, &cloth);
        Some(cloth)
    }

    /// Which statements and properties may stand there, each but flaws once.
    fn statements(&mut self, entry: &Entry) {
        self.findings.extend(check_properties(entry, &[]));
        let children = entry.children();
        self.findings
            .extend(check_statements(children, &STATEMENTS));
        let once: Vec<Entry> = children
            .iter()
            .filter(|child| child.name() != "flaw" && child.name() != "note")
            .cloned()
            .collect();
        self.findings.extend(check_repeats(&once));
        for child in children {
            let (properties, inner): (&[&str], &[&str]) = match child.name() {
                "price" => (&["currency", "per"], &[]),
                "repeat" => (
                    &["along", "across", "along-from", "across-from", "uneven"],
                    &[],
                ),
                "shrinkage" | "bending-length" | "stretch" => (&["along", "across"], &[]),
                "flaw" => (&["along", "across", "size"], &["corner"]),
                "outline" => (&[], &["corner"]),
                _ => (&[], &[]),
            };
            self.findings.extend(check_properties(child, properties));
            self.findings
                .extend(check_statements(child.children(), inner));
        }
    }

    /// Width of the selvedge, length, price, shrinkage.
    fn sizes(&mut self, entry: &Entry, cloth: &mut Cloth) {
        if let Some(line) = entry.child("selvedge") {
            cloth.selvedge = self.length(line, &(0.0..=100.0)).unwrap_or(0.0);
        }
        if let Some(line) = entry.child("length") {
            cloth.length = self.length(line, &LENGTHS);
        }
        if let Some(line) = entry.child("sold-in") {
            cloth.sold_in = self.length(line, &(1.0..=1000.0)).unwrap_or(cloth.sold_in);
        }
        if let Some(line) = entry.child("price") {
            cloth.price = self.price(line);
        }
        if let Some(line) = entry.child("shrinkage") {
            cloth.shrinkage = self
                .both(line, &(0.0..=30.0))
                .map(|percent| percent / 100.0);
        }
        cloth.washed = self.flag(entry, "washed");
    }

    /// Weight, thickness and how it bends, stretches and frays.
    fn hand(&mut self, entry: &Entry, cloth: &mut Cloth) {
        if let Some(line) = entry.child("weight") {
            let weight = line
                .argument("grams a square metre, such as 235")
                .and_then(Value::number);
            let read = self.keep(weight);
            cloth.weight = read
                .and_then(|weight| self.within(line, weight, &(5.0..=2000.0), "g/m²"))
                .unwrap_or(cloth.weight);
        }
        if let Some(line) = entry.child("thickness") {
            cloth.thickness = self.length(line, &(0.02..=15.0)).unwrap_or(cloth.thickness);
        }
        if let Some(line) = entry.child("bending-length") {
            let mut one = |name| self.property_length(line, name, &(1.0..=200.0));
            let (along, across) = (one("along"), one("across"));
            cloth.bending = along
                .or(across)
                .map(|either| [along.unwrap_or(either), across.unwrap_or(either)]);
            if cloth.bending.is_none() {
                self.findings.push(missing(
                    "value-missing",
                    "along",
                    line.name_span(),
                    "bending-length along=\"21 mm\" across=\"18 mm\"",
                ));
            }
        }
        if let Some(line) = entry.child("stretch") {
            cloth.stretch = self
                .both(line, &(0.0..=200.0))
                .map(|percent| percent / 100.0);
        }
        if let Some(line) = entry.child("frays") {
            let choices = [
                ("little", Fraying::Little),
                ("some", Fraying::Some),
                ("much", Fraying::Much),
            ];
            cloth.frays = self.word(line, &choices).unwrap_or_default();
        }
        if let Some(line) = entry.child("sides") {
            cloth.sides_alike = self
                .word(line, &[("alike", true), ("differ", false)])
                .unwrap_or(false);
        }
    }

    /// Which way it runs, and what repeats on it.
    fn pattern(&mut self, entry: &Entry, cloth: &mut Cloth) {
        if self.flag(entry, "one-way") {
            cloth.direction = Direction::OneWay;
        }
        if self.flag(entry, "nap") {
            cloth.direction = Direction::Nap;
        }
        let Some(line) = entry.child("repeat") else {
            return;
        };
        cloth.repeats = Repeats {
            along: self.bars(line, "along", "along-from"),
            across: self.bars(line, "across", "across-from"),
            uneven: line
                .property("uneven")
                .and_then(|value| self.keep(value.truth()))
                .unwrap_or(false),
        };
        if line.property("along").is_none() && line.property("across").is_none() {
            self.findings.push(missing(
                "repeat-without-length",
                "along",
                line.name_span(),
                "repeat along=\"96 mm\" across=\"72 mm\"",
            ));
        }
    }

    fn bars(&mut self, line: &Entry, every: &str, from: &str) -> Option<Bars> {
        let beginning = self.property_length(line, from, &(0.0..=*REPEATS.end()));
        let every = self.property_length(line, every, &REPEATS)?;
        Some(Bars {
            every,
            from: beginning.unwrap_or(0.0),
        })
    }

    /// Flaws and the outline of a left-over.
    fn places(&mut self, entry: &Entry, cloth: &mut Cloth) {
        for (number, line) in entry.children_named("flaw").enumerate() {
            let name = line
                .optional_argument("what it is, such as \"stain\"")
                .and_then(|value| value.map_or(Ok(""), Value::text));
            let name = self.keep(name).unwrap_or_default();
            let name = if name.is_empty() {
                format!("flaw {}", number + 1)
            } else {
                name.to_owned()
            };
            if let Some(outline) = self.flaw(line) {
                cloth.flaws.push(Flaw { name, outline });
            }
        }
        if let Some(line) = entry.child("outline") {
            cloth.outline = self.corners(line);
            if entry.child("length").is_some() {
                let finding = given_twice("statement-given-twice", "length", line.name_span())
                    .because("The outline of a left-over says how long it is.")
                    .cure("Take the length away.");
                self.findings.push(finding);
            }
        }
    }

    fn flaw(&mut self, line: &Entry) -> Option<Vec<Point>> {
        if !line.children().is_empty() {
            return self.corners(line);
        }
        let mut one = |name| {
            let value = self.property_length(line, name, &(0.0..=*LENGTHS.end()));
            if line.property(name).is_none() {
                self.findings.push(missing(
                    "flaw-without-place",
                    name,
                    line.name_span(),
                    "flaw \"stain\" along=\"1.2 m\" across=\"30 cm\" size=\"4 cm\"",
                ));
            }
            value
        };
        let (x, y, size) = (one("along")?, one("across")?, one("size")?);
        let half = size.max(1.0) / 2.0;
        let put = |(dx, dy): (f64, f64)| Point::new(x + dx * half, y + dy * half);
        Some(
            [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
                .map(put)
                .to_vec(),
        )
    }

    /// The corners of an outline: how far along and how far across each is.
    fn corners(&mut self, line: &Entry) -> Option<Vec<Point>> {
        let lines = line.children_named("corner");
        let corners: Vec<Option<Point>> = lines.map(|corner| self.corner(corner)).collect();
        let corners: Option<Vec<Point>> = corners.into_iter().collect();
        let corners = corners?;
        match crate::nest::sound(&corners) {
            Ok(()) => Some(corners),
            Err(what) => {
                self.findings.push(unsound(line, &what));
                None
            }
        }
    }

    fn corner(&mut self, line: &Entry) -> Option<Point> {
        let [along, across] = line.arguments() else {
            self.findings.push(
                Finding::error("corner-not-readable", "A corner has two lengths.")
                    .at_text(line.name_span(), "along and across")
                    .allowed("how far along the cloth and how far across it")
                    .cure("Write it like: corner \"1.2 m\" \"30 cm\"."),
            );
            return None;
        };
        let bounds = 0.0..=*LENGTHS.end();
        let along = self.length_of(along, &bounds);
        let across = self.length_of(across, &bounds);
        Some(Point::new(along?, across?))
    }

    fn has_room(&mut self, entry: &Entry, cloth: &Cloth) {
        if cloth.usable_width() < *WIDTHS.start() {
            let span = entry.child("selvedge").unwrap_or(entry).name_span();
            self.findings.push(
                Finding::error(
                    "selvedges-too-wide",
                    format!(
                        "between its selvedges the cloth is {:.0} mm wide",
                        cloth.usable_width()
                    ),
                )
                .at_text(span, "on both edges")
                .allowed(format!("at least {} mm between them", WIDTHS.start()))
                .cure("Write the width of one selvedge, such as \"1 cm\"."),
            );
        }
    }

    fn price(&mut self, line: &Entry) -> Option<Price> {
        let amount = line
            .argument("a price, such as 24.5")
            .and_then(Value::number);
        let amount = self.keep(amount)?;
        let amount = self.within(line, amount, &(0.0..=1e6), "")?;
        let per = match line.property("per") {
            None => 1.0,
            Some(value) => {
                let choices = [("m", 1.0), ("yard", YARD / 1000.0)];
                self.keep(value.choice(&choices))?
            }
        };
        let currency = match line.property("currency") {
            None => String::new(),
            Some(value) => self.keep(value.text())?.to_owned(),
        };
        Some(Price {
            per_metre: amount / per,
            currency,
        })
    }

    /// Whether a statement without any value is there.
    fn flag(&mut self, entry: &Entry, name: &str) -> bool {
        let Some(line) = entry.child(name) else {
            return false;
        };
        if let Some(value) = line.arguments().first() {
            self.findings.push(
                Finding::error("value-too-many", format!("“{name}” stands alone."))
                    .at_text(value.span(), "nothing is expected here")
                    .allowed(format!("“{name}” by itself, or not at all"))
                    .cure("Take the value away."),
            );
        }
        true
    }

    /// Two plain numbers, lengthwise and crosswise; nought where one is not given.
    fn both(&mut self, line: &Entry, bounds: &RangeInclusive<f64>) -> [f64; 2] {
        ["along", "across"]
            .map(|name| {
                let value = line.property(name)?;
                let number = self.keep(value.number())?;
                self.bounded(value, number, bounds, "percent")
            })
            .map(Option::unwrap_or_default)
    }

    fn word<T: Clone>(&mut self, line: &Entry, choices: &[(&str, T)]) -> Option<T> {
        let read = line
            .argument("one word")
            .and_then(|value| value.choice(choices));
        self.keep(read)
    }

    fn length(&mut self, line: &Entry, bounds: &RangeInclusive<f64>) -> Option<f64> {
        let value = self.keep(line.argument("a length such as \"150 cm\""))?;
        self.length_of(value, bounds)
    }

    fn property_length(
        &mut self,
        line: &Entry,
        name: &str,
        bounds: &RangeInclusive<f64>,
    ) -> Option<f64> {
        self.length_of(line.property(name)?, bounds)
    }

    fn length_of(&mut self, value: &Value, bounds: &RangeInclusive<f64>) -> Option<f64> {
        let length = self.keep(value.length())?.mm();
        self.bounded(value, length, bounds, "mm")
    }

    fn within(
        &mut self,
        line: &Entry,
        number: f64,
        bounds: &RangeInclusive<f64>,
        unit: &str,
    ) -> Option<f64> {
        let value = line.arguments().first()?;
        self.bounded(value, number, bounds, unit)
    }

    fn bounded(
        &mut self,
        value: &Value,
        number: f64,
        bounds: &RangeInclusive<f64>,
        unit: &str,
    ) -> Option<f64> {
        if bounds.contains(&number) {
            return Some(number);
        }
        let allowed = format!("from {} to {} {unit}", bounds.start(), bounds.end());
        self.findings.push(
            Finding::error(
                "out-of-bounds",
                format!("{} is too little or too much here.", value.shown()),
            )
            .at_text(value.span(), format!("allowed: {}", allowed.trim_end()))
            .allowed(allowed.trim_end())
            .cure(
                "Look for a slip of the pen or of the unit, and write a value within these bounds.",
            ),
        );
        None
    }

    fn keep<T>(&mut self, read: Result<T, Finding>) -> Option<T> {
        read.map_err(|finding| self.findings.push(finding)).ok()
    }
}

fn unsound(line: &Entry, what: &Unsound) -> Finding {
    Finding::error(
        "outline-not-sound",
        format!("The corners of this {} make no outline: {what}.", line.name()),
    )
    .at_text(line.name_span(), "no outline")
    .allowed("three corners or more, going round once without crossing")
    .cure("Write the corners in the order in which one walks round it, each as: corner \"1.2 m\" \"30 cm\".")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cloth(text: &str) -> Cloth {
        read(&Source::new("crepe.kdl", text)).unwrap_or_else(|findings| panic!("{findings:#?}"))
    }

    fn codes(text: &str) -> Vec<&'static str> {
        let findings = read(&Source::new("crepe.kdl", text)).expect_err(text);
        findings.iter().map(|finding| finding.code).collect()
    }

    #[test]
    fn a_cloth_file_is_read_in_any_units() {
        let cloth = cloth(
            "cloth \"wool plaid\" {\n width \"60 in\"\n selvedge \"1/2 in\"\n length \"2 m\"\n price 18.288 per=\"yard\" currency=\"€\"\n nap\n repeat along=\"96 mm\" across=\"72 mm\" across-from=\"15 mm\" uneven=#true\n shrinkage along=5 across=2\n weight 310\n thickness \"0.9 mm\"\n bending-length along=\"21 mm\"\n sides \"alike\"\n frays \"much\"\n flaw \"hole\" along=\"1 m\" across=\"30 cm\" size=\"4 cm\"\n}\n",
        );
        assert_eq!(cloth.width, 1524.0);
        assert_eq!(cloth.usable_width(), 1524.0 - 25.4);
        let price = cloth.price.as_ref().expect("it has a price");
        assert!((price.per_metre - 20.0).abs() < 1e-9, "{price:?}");
        assert!(cloth.direction.is_one_way() && cloth.repeats.uneven && cloth.sides_alike);
        assert_eq!(
            cloth.repeats.across,
            Some(Bars {
                every: 72.0,
                from: 15.0
            })
        );
        assert_eq!(cloth.bending, Some([21.0, 21.0]));
        assert_eq!(cloth.flaws[0].outline[0], Point::new(980.0, 280.0));
    }

    #[test]
    fn washing_makes_everything_on_the_cloth_smaller() {
        let cloth = cloth(
            "cloth \"x\" { width \"1 m\"; selvedge \"1 cm\"; length \"2 m\"; shrinkage along=10 across=5; repeat along=\"100 mm\" along-from=\"10 mm\"; flaw along=\"1 m\" across=\"40 cm\" size=\"2 cm\" }",
        );
        let laid = cloth.as_laid();
        assert!((laid.usable_width() - 0.95 * 980.0).abs() < 1e-9);
        assert!((laid.length.expect("as before") - 1800.0).abs() < 1e-9);
        let bars = laid.repeats.along.expect("as before");
        assert!((bars.every - 90.0).abs() < 1e-9 && (bars.from - 9.0).abs() < 1e-9);
        assert!((laid.flaws[0].outline[0].x - 0.9 * 990.0).abs() < 1e-9);
        assert_eq!(laid.as_laid(), laid, "it shrinks once");
        let washed = Cloth {
            washed: true,
            ..cloth
        };
        assert_eq!(washed.as_laid(), washed);
    }

    #[test]
    fn each_slip_has_its_code() {
        for (text, code) in [
            ("", "cloth-missing"),
            ("body \"x\"", "unknown-statement"),
            ("cloth { width \"1 m\" }", "value-missing"),
            ("cloth \"x\"", "cloth-without-width"),
            (
                "cloth \"x\" { width \"1 m\"; widht \"1 m\" }",
                "unknown-statement",
            ),
            (
                "cloth \"x\" { width \"1 m\"; width \"2 m\" }",
                "statement-given-twice",
            ),
            ("cloth \"x\" { width 150 }", "length-not-readable"),
            ("cloth \"x\" { width \"1 cm\" }", "out-of-bounds"),
            (
                "cloth \"x\" { width \"10 cm\"; selvedge \"4 cm\" }",
                "selvedges-too-wide",
            ),
            (
                "cloth \"x\" { width \"1 m\"; shrinkage along=60 }",
                "out-of-bounds",
            ),
            (
                "cloth \"x\" { width \"1 m\"; nap \"up\" }",
                "value-too-many",
            ),
            (
                "cloth \"x\" { width \"1 m\"; repeat uneven=#true }",
                "repeat-without-length",
            ),
            (
                "cloth \"x\" { width \"1 m\"; price 3 per=\"ell\" }",
                "unknown-word",
            ),
            (
                "cloth \"x\" { width \"1 m\"; flaw along=\"1 m\" across=\"1 cm\" }",
                "flaw-without-place",
            ),
            (
                "cloth \"x\" { width \"1 m\"; outline { corner \"1 m\" } }",
                "corner-not-readable",
            ),
            (
                "cloth \"x\" { width \"1 m\"; outline { corner \"0 m\" \"0 m\"; corner \"1 m\" \"1 m\"; corner \"1 m\" \"0 m\"; corner \"0 m\" \"1 m\" } }",
                "outline-not-sound",
            ),
            (
                "cloth \"x\" { width \"1 m\" }\ncloth \"y\" { width \"1 m\" }",
                "statement-given-twice",
            ),
        ] {
            assert_eq!(codes(text), [code], "{text}");
        }
    }

    proptest! {
        #[test]
        fn any_file_gives_a_cloth_or_findings(text in "(cloth|width|repeat|flaw|corner|along|=|\"|\\{|\\}|[0-9]| |cm|;|\n){0,60}") {
            if let Err(findings) = read(&Source::new("any.kdl", text)) {
                prop_assert!(!findings.is_empty());
            }
        }
    }
}
