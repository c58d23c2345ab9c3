//! The reference of parts, docs/parts, is made from the modules that derive them: the text of each, and its example drawn.
//!
//! `NOTCHBOOK_WRITE=1 cargo test -p notchbook --test parts_manual` writes the pages anew.

mod manual;

use std::fs;
use std::path::{Path, PathBuf};

use drawing::{Change, Labels, change, layers};
use manual::{Pages, sentence};
use pattern::Pattern;

/// The command that writes the pages.
const COMMAND: &str = "NOTCHBOOK_WRITE=1 cargo test -p notchbook --test parts_manual";

/// The garment behind which the parts of the examples lie; what an example says itself is left out of it.
const GARMENT: &[(&str, &str)] = &[
    ("opening", "opening \"back\""),
    ("ease", "ease { bust \"60 mm\" }"),
    (
        "bodice",
        "bodice { bust-dart \"side\"; neckline \"round\" depth=\"30 mm\" width=\"15 mm\" }",
    ),
    ("skirt", "skirt \"straight\" length=\"600 mm\""),
];

/// What a part needs besides: lines of the recipe.
const NEEDED: &[(&str, &str)] = &[
    ("hem", "sleeve"),
    ("interfacing", "facings { neck }"),
    ("waist", "lining \"open\""),
];

/// A part as its module tells of it.
struct Part {
    name: String,
    paragraphs: Vec<String>,
    example: String,
}

/// All modules that tell of a part: those whose text says what can go wrong with it.
fn parts() -> Vec<Part> {
    let folder = manual::root().join("crates/garment/src/part");
    let mut files = Vec::new();
    gather(&folder, &mut files);
    files.sort();
    let parts = files.iter().filter_map(|path| part(&folder, path));
    parts.collect()
}

fn gather(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the folder is there").flatten() {
        let path = entry.path();
        if path.is_dir() {
            gather(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
}

/// `facing/neck.rs` tells of `neck-facing` where it says so in its example, and else of `facing-neck`; `lining/mod.rs` of `lining`.
fn part(folder: &Path, path: &Path) -> Option<Part> {
    let code = fs::read_to_string(path).expect("the module can be read");
    let text = module_text(&code);
    if !text.contains("**What can go wrong.**") {
        return None;
    }
    let inside = path.strip_prefix(folder).expect("it was found there");
    let name = inside
        .with_extension("")
        .to_string_lossy()
        .replace(['/', '_', '\\'], "-");
    let example = manual::example(&text);
    let example = example.unwrap_or_else(|| panic!("the text of {name} has no example"));
    Some(Part {
        name: name.trim_end_matches("-mod").to_owned(),
        paragraphs: manual::paragraphs(&text),
        example,
    })
}

/// What stands at the top of a module, behind `//!`.
fn module_text(code: &str) -> String {
    let lines = code.lines().map_while(|line| line.strip_prefix("//!"));
    lines
        .map(|line| line.strip_prefix(' ').unwrap_or(line))
        .collect::<Vec<_>>()
        .join("\n")
}

fn pages() -> Pages {
    let parts = parts();
    let mut pages = Pages::from([("README.md".to_owned(), index(&parts))]);
    for part in &parts {
        pages.insert(format!("{}.svg", part.name), picture(part));
        pages.insert(format!("{}.md", part.name), page(part));
    }
    pages
}

fn index(parts: &[Part]) -> String {
    let row = |part: &Part| {
        let first = part.paragraphs.first().map_or("", String::as_str);
        format!(
            "| [{0}]({0}.md) | {1} |\n",
            part.name,
            first.replace('\n', " ")
        )
    };
    let rows: String = parts.iter().map(row).collect();
    format!(
        "# Parts\n\nWhat is derived behind and on the pieces of the outside, anew on every change; how it is asked for: \
         [recipes](../recipes.md).\nThese pages are made from the program (`{COMMAND}`).\n\n| part | what it is |\n|---|---|\n{rows}"
    )
}

fn page(part: &Part) -> String {
    format!(
        "# {}\n\n{}\n\n## Behind a dress\n\n```kdl\n{}\n```\n\n![{3}]({3}.svg)\n",
        sentence(&part.name.replace('-', " ")),
        part.paragraphs.join("\n\n"),
        part.example,
        part.name
    )
}

/// What the part puts behind the pieces, layer on layer; where it puts nothing there, the pieces before and after.
fn picture(part: &Part) -> String {
    let needed = NEEDED.iter().filter(|(name, _)| *name == part.name);
    let mut lines = vec![without(&part.example)];
    lines.extend(needed.map(|(_, line)| (*line).to_owned()));
    let bare = lines.join("\n");
    let pattern = |lines: &str| manual::garment(lines, &part.name).garment().pattern;
    let before = pattern(&bare);
    let mut after = pattern(&format!("{bare}\n{}", part.example));
    let is_new = |piece: &str| before.piece(piece).is_none();
    after.makeup.lies.retain(|lies| is_new(&lies.piece));
    let labels = Labels {
        garment: sentence(&part.name.replace('-', " ")),
        ..Labels::default()
    };
    let drawn = layers(&after, &labels).unwrap_or_else(|| changed(part, &before, &after));
    sheet::svg(&drawn).expect("a picture of a part can be written")
}

fn changed(part: &Part, before: &Pattern, after: &Pattern) -> sheet::Drawing {
    change(&Change {
        before,
        after,
        lines: &[],
        title: &sentence(&part.name.replace('-', " ")),
        words: "",
    })
}

/// The lines of the garment that the example does not say itself.
fn without(example: &str) -> String {
    let said = statements(example);
    let says = |statement: &str| said.iter().any(|one| one == statement);
    let kept = GARMENT.iter().filter(|(statement, _)| !says(statement));
    kept.map(|(_, line)| *line).collect::<Vec<_>>().join("\n")
}

/// The first words of the statements that stand in no block.
fn statements(example: &str) -> Vec<String> {
    let (mut depth, mut outside) = (0, String::new());
    for letter in example.chars() {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            letter if depth == 0 => outside.push(letter),
            _ => {}
        }
    }
    let lines = outside.split(['\n', ';']);
    lines
        .filter_map(|line| line.split_whitespace().next().map(str::to_owned))
        .collect()
}

#[test]
fn the_pages_are_what_the_parts_say() {
    manual::check("docs/parts", &pages(), COMMAND);
}

#[test]
fn every_part_is_told_in_the_house_form() {
    for part in parts() {
        for heading in ["**What it does.**", "**When it is used.**", "**Example.**"] {
            let told = part.paragraphs.iter().any(|one| one.contains(heading));
            assert!(told, "{} lacks {heading}", part.name);
        }
    }
}
