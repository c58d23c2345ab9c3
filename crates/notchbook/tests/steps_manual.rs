//! The reference of steps, docs/steps, is made from the steps themselves: the text of each module, its values, and its example
//! done on a block and drawn.
//!
//! `NOTCHBOOK_WRITE=1 cargo test -p notchbook --test steps_manual` writes the pages anew.

mod manual;

use drawing::{Change, change};
use garment::Replay;
use manual::{Pages, sentence};
use pattern::step::{Group, Kind, Parameter, STEPS, StepKind, Usual, describe};

/// The command that writes the pages.
const COMMAND: &str = "NOTCHBOOK_WRITE=1 cargo test -p notchbook --test steps_manual";

/// The block on which the examples are done.
const BLOCK: &str = "opening \"none\"
    ease { bust \"60 mm\" }
    bodice { bust-dart \"side\"; neckline \"round\" depth=\"20 mm\" }
    sleeve
    skirt \"straight\" length=\"600 mm\"";

/// Examples that need more than their own step: lines of the recipe that come before it, and the step itself.
const EXAMPLES: &[(&str, &[&str], &str)] = &[
    (
        "lengthen",
        &[],
        "lengthen at=\"front.side at 60 mm from waist, back.side at 60 mm from waist\" by=\"20 mm\"",
    ),
    (
        "shorten",
        &[],
        "shorten at=\"front.side at 60 mm from waist, back.side at 60 mm from waist\" by=\"20 mm\"",
    ),
    (
        "cut",
        &[],
        "cut from=\"front.shoulder halfway\" through=\"front.bust-point\" to=\"front.waist-dart\" seam=\"princess\"",
    ),
    ("grain", &[], "grain piece=\"skirt-front\" angle=\"45 deg\""),
    (
        "join",
        &[
            "cut from=\"back.armhole at 1/2 from side\" to=\"back.centre at 100 mm from neckline\" seam=\"yoke\"",
        ],
        "join seam=\"yoke\"",
    ),
    (
        "high-hip",
        &["mirror piece=\"skirt-front, skirt-back\""],
        "high-hip side=\"left\" by=\"10 mm\"",
    ),
    (
        "cut-on-fold",
        &["mirror piece=\"skirt-front\""],
        "cut-on-fold piece=\"skirt-front\"",
    ),
    ("cuff", &[], "cuff edge=\"sleeve.hem\" height=\"50 mm\""),
    ("erect-back", &[], "erect-back by=\"3 mm\""),
    (
        "smooth",
        &["widen edge=\"skirt-front.side\" by=\"0 mm\" by-end=\"60 mm\""],
        "smooth edge=\"skirt-front.hem, skirt-back.hem\"",
    ),
    (
        "true-seam",
        &["redraw edge=\"skirt-front.side\" at=0.3 out=\"20 mm\""],
        "true-seam seam=\"skirt-side\" edge=\"skirt-back.side\" at=\"skirt-back.hem\"",
    ),
    (
        "ease-in",
        &["redraw edge=\"skirt-front.side\" at=0.3 out=\"20 mm\""],
        "ease-in seam=\"skirt-side\"",
    ),
    (
        "match-notches",
        &[
            "notch at=\"skirt-front.side at 100 mm from waist\" name=\"balance\" matched=#false",
            "notch at=\"skirt-back.side at 108 mm from waist\" name=\"balance\" matched=#false",
        ],
        "match-notches seam=\"skirt-side\" piece=\"skirt-back\"",
    ),
    (
        "widen",
        &[],
        "widen edge=\"front.side, back.side\" by=\"5 mm\"",
    ),
    (
        "narrow",
        &[],
        "narrow edge=\"front.side, back.side\" by=\"5 mm\"",
    ),
];

const GROUPS: [(Group, &str); 6] = [
    (Group::Darts, "Darts"),
    (Group::Size, "Size"),
    (Group::Correction, "Corrections"),
    (Group::Line, "Lines"),
    (Group::Build, "Building"),
    (Group::Marks, "Marks"),
];

/// All pages and pictures by name.
fn pages() -> Pages {
    let mut pages = Pages::from([("README.md".to_owned(), index())]);
    for step in STEPS {
        let example = example(step);
        let replay = done(step, &example);
        pages.insert(format!("{}.svg", step.name), picture(&replay));
        pages.insert(format!("{}.md", step.name), page(step, &example, &replay));
    }
    pages
}

fn index() -> String {
    let groups = GROUPS.map(|(group, title)| {
        let steps = STEPS.iter().filter(|step| step.group == group);
        let rows = steps.map(|step| format!("| [{0}]({0}.md) | {1} |\n", step.name, step.summary));
        let rows = rows.collect::<Vec<_>>().concat();
        if rows.is_empty() {
            String::new()
        } else {
            format!("\n## {title}\n\n| step | what it does |\n|---|---|\n{rows}")
        }
    });
    format!(
        "# Steps\n\nWhat can be done to the pieces of a garment, in the order in which a recipe says so; how steps are written: \
         [recipes](../recipes.md#steps).\nThese pages are made from the program (`{COMMAND}`).\n{}",
        groups.concat()
    )
}

fn page(step: &StepKind, example: &(Vec<String>, String), replay: &Replay) -> String {
    let done = replay.done.as_ref().expect("the example was done");
    let rows = step.parameters.iter().map(row).collect::<Vec<_>>().concat();
    let before = example.0.iter().map(|line| format!("    {line}\n"));
    let before = before.collect::<Vec<_>>().concat();
    format!(
        "# {}\n\n{}\n\n## Values\n\n| value | what it is | what it takes | if it is not given |\n|---|---|---|---|\n{rows}\n\
         ## On a block\n\n```kdl\nsteps {{\n{before}    {}\n}}\n```\n\n![{}]({}.svg)\n\n{}.\n",
        step.name,
        paragraphs(step),
        example.1,
        step.summary,
        step.name,
        sentence(done.words.trim_end_matches('.')),
    )
}

/// The module's text, with its parts in paragraphs of their own, without an example that stands below in another form.
fn paragraphs(step: &StepKind) -> String {
    let text = step.manual_text();
    let other = EXAMPLES.iter().any(|(name, ..)| *name == step.name)
        || !text.contains(&format!("**Example.** `{} ", step.name));
    let mut parts = manual::paragraphs(&text);
    parts.retain(|part| !(other && part.starts_with("**Example.**")));
    parts.join("\n\n")
}

fn row(parameter: &Parameter) -> String {
    let many = if parameter.many { ", one or more" } else { "" };
    let takes = match parameter.kind {
        Kind::Flag => "`#true` or `#false`".to_owned(),
        Kind::Text => "a text".to_owned(),
        kind => describe(kind),
    };
    format!(
        "| `{}` | {} | {takes}{many} | {} |\n",
        parameter.name,
        parameter.label,
        usual(parameter.usual)
    )
}

fn usual(usual: Usual) -> String {
    match usual {
        Usual::Needed => "it must be given".into(),
        Usual::Nothing => "nothing".into(),
        Usual::Length(mm) => format!("{mm} mm"),
        Usual::Angle(degrees) => format!("{degrees}°"),
        Usual::Number(number) => number.to_string(),
        Usual::Count(count) => count.to_string(),
        Usual::Word(word) => format!("`{word}`"),
        Usual::Flag(flag) => format!("`#{flag}`"),
    }
}

/// Lines before a step and the step, from the table above or from the module's own example.
fn example(step: &StepKind) -> (Vec<String>, String) {
    if let Some((_, before, line)) = EXAMPLES.iter().find(|(name, ..)| *name == step.name) {
        let before = before.iter().map(|line| (*line).to_owned()).collect();
        return (before, (*line).to_owned());
    }
    let line = manual::example(&step.manual_text());
    let line = line.unwrap_or_else(|| panic!("the text of {} has no example", step.name));
    // A step and its opposite share one text, whose example is that of the first.
    let values = line.split_once(' ').map_or("", |(_, values)| values);
    (Vec::new(), format!("{} {values}", step.name))
}

/// The last step of an example, done on the block.
fn done(step: &StepKind, (before, line): &(Vec<String>, String)) -> Replay {
    let steps = [before.join("\n"), line.clone()].join("\n");
    let replayed = manual::garment(&format!("{BLOCK}\nsteps {{\n{steps}\n}}"), step.name);
    let last = replayed.replays().last().cloned();
    last.expect("an example has a step")
}

fn picture(replay: &Replay) -> String {
    let done = replay.done.as_ref().expect("the example was done");
    let drawn = change(&Change {
        before: &replay.before,
        after: &done.after,
        lines: &done.lines,
        title: replay.step.kind.name,
        words: replay.step.kind.summary,
    });
    sheet::svg(&drawn).expect("a picture of a step can be written")
}

#[test]
fn the_pages_are_what_the_steps_say() {
    manual::check("docs/steps", &pages(), COMMAND);
}

/// `why` and `off` belong to every step, so no step may call a value of its own by these names.
#[test]
fn no_step_takes_the_names_that_every_step_has() {
    for step in STEPS {
        for name in ["why", "off"] {
            assert!(step.parameter(name).is_none(), "{} takes {name}", step.name);
        }
    }
}
