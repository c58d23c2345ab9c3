//! The faults of a room that keeps their codes, words and cures in one file, read as text: an enum with `#[error("…")]` above each
//! variant, and functions `code` and `cure` with an arm for each.

use super::sources::Entry;

/// One entry a code, with the words of its first variant.
pub(crate) fn entries(file: &str, text: &str) -> Vec<Entry> {
    let codes = arms(function(text, "code"));
    let cures = arms(function(text, "cure"));
    let entry = |(variants, code): &(Vec<String>, String)| {
        let variant = variants.first()?;
        let cure = cures.iter().find(|(names, _)| names.contains(variant));
        Some(Entry {
            code: code.clone(),
            severity: "error".into(),
            message: message(text, variant),
            allowed: String::new(),
            cure: cure.map(|(_, words)| words.clone()).unwrap_or_default(),
            file: file.into(),
        })
    };
    codes.iter().filter_map(entry).collect()
}

/// The text of a function of the file; its own arms alone.
fn function<'a>(text: &'a str, name: &str) -> &'a str {
    let from = text
        .split_once(&format!("fn {name}("))
        .map_or("", |(_, rest)| rest);
    from.split_once("\n    }\n").map_or(from, |(own, _)| own)
}

/// Names of variants, and the first text behind their arrow.
fn arms(function: &str) -> Vec<(Vec<String>, String)> {
    let mut arms = Vec::new();
    let mut rest = function;
    while let Some((names, behind)) = rest.split_once("=>") {
        let names = names.rsplit_once(['}', ',', '{']).map_or(names, |_| names);
        let variants = names.split("Self::").skip(1).filter_map(|one| {
            let name: String = one.chars().take_while(|c| c.is_alphanumeric()).collect();
            (!name.is_empty()).then_some(name)
        });
        let variants: Vec<String> = variants.collect();
        let Some((said, after)) = behind
            .split_once('"')
            .and_then(|(_, from)| from.split_once('"'))
        else {
            break;
        };
        arms.push((variants, said.to_owned()));
        rest = after;
    }
    arms
}

/// What a variant says, with … where something is put in.
fn message(text: &str, variant: &str) -> String {
    let Some((before, _)) = text.split_once(&format!("\n    {variant} {{")) else {
        return String::new();
    };
    let attribute = before.rsplit_once("#[error(").map_or("", |(_, rest)| rest);
    let words = attribute.split('"').nth(1).unwrap_or_default();
    let mut plain = String::new();
    for (index, part) in words.split('{').enumerate() {
        let said = if index == 0 {
            part
        } else {
            part.split_once('}').map_or("", |(_, rest)| rest)
        };
        plain.push_str(if index == 0 { "" } else { "…" });
        plain.push_str(said);
    }
    plain
}
