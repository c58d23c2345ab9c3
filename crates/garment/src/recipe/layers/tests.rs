use std::sync::Arc;

use document::{Finding, Place, Source};

use crate::recipe::{Recipe, open};

const BLOCK: &str = r#"garment "Block" {
    version "7"
    body "body.kdl"
    ease { bust "60 mm"; waist "30 mm" }
    bodice { bust-dart "side"; neckline "v" depth="90 mm" }
    sleeve cap-ease="20 mm"
    skirt "straight" length="600 mm"
    steps { transfer dart="front.bust-dart" to="front.shoulder halfway" }
}"#;

/// What a text comes to where files of these names lie beside it.
fn opened(text: &str, files: &[(&str, &str)]) -> Result<Recipe, Vec<Finding>> {
    let source = Source::new("own.kdl", text);
    let mut sources = |name: &str, _: &document::Span| {
        let found = files.iter().find(|(known, _)| *known == name);
        found
            .map(|(_, text)| Source::new(name, *text))
            .ok_or_else(|| Finding::error("file-missing", format!("There is no file {name}.")))
    };
    let body = body::complete(&body::Tape::new("test").with(body::Measure::Bust, 920.0));
    open(&source, &mut sources)?.recipe(&body)
}

fn style(lines: &str) -> String {
    format!("garment \"Style\" {{\n based-on \"block.kdl\"\n{lines}\n}}")
}

#[test]
fn a_base_gives_what_is_not_said_again() {
    let lines = "ease { waist \"bust / 20\" }\nbodice { bust-dart \"waist\" }\nskirt \"gathered\" length=\"700 mm\"\n\
                 steps { transfer dart=\"front.bust-dart\" to=\"front.side halfway\" why=\"softer\" off=#true }";
    let recipe = opened(&style(lines), &[("block.kdl", BLOCK)]).expect("both are sound");
    assert_eq!(
        (recipe.name.as_str(), recipe.version.as_str()),
        ("Style", "1")
    );
    assert_eq!(recipe.ease.bodice.bust, 60.0);
    assert!((recipe.ease.bodice.waist - 46.0).abs() < 1e-9);
    let bodice = recipe.bodice.expect("the block has one").value;
    assert_eq!(bodice.neckline.value.depth, 90.0);
    assert_eq!(
        bodice.bust_dart.value,
        crate::block::bodice::BustDartAt::Waist
    );
    assert_eq!(recipe.skirt.expect("there is one").value.length, 700.0);
    assert_eq!(
        recipe
            .sleeve
            .expect("the block has one")
            .value
            .cap_ease
            .value,
        20.0
    );
    assert_eq!(
        recipe.body.expect("the block names one").span.source.name,
        "block.kdl"
    );
    let off: Vec<bool> = recipe.steps.iter().map(|step| step.off).collect();
    assert_eq!(off, [false, true]);
    assert_eq!(recipe.steps[1].why.as_deref(), Some("softer"));
}

#[test]
fn a_part_of_the_base_can_be_taken_away_and_given_anew() {
    let recipe = opened(
        &style("without \"sleeve\" \"steps\" \"bodice\"\nbodice"),
        &[("block.kdl", BLOCK)],
    );
    let recipe = recipe.expect("both are sound");
    assert!(recipe.sleeve.is_none() && recipe.steps.is_empty());
    let bodice = recipe.bodice.expect("it is given anew").value;
    assert_eq!(bodice.neckline.value.depth, 0.0);
}

/// The first finding: its code, the file and the text that it underlines.
fn slip(text: &str, files: &[(&str, &str)]) -> (&'static str, String, String) {
    let findings = opened(text, files).expect_err("it has a slip");
    let Place::Text { span, .. } = &findings[0].places[0] else {
        panic!("{findings:?}")
    };
    (
        findings[0].code,
        span.source.name.clone(),
        span.text().to_owned(),
    )
}

#[test]
fn slips_are_shown_in_the_file_where_they_stand() {
    let block = BLOCK.replace("cap-ease", "cap-eese");
    assert_eq!(
        slip(&style(""), &[("block.kdl", &block)]),
        ("unknown-property", "block.kdl".into(), "cap-eese".into())
    );
    assert_eq!(
        slip(&style(""), &[]),
        ("file-missing", "own.kdl".into(), "\"block.kdl\"".into())
    );
    assert_eq!(
        slip(&style("without \"sleve\""), &[("block.kdl", BLOCK)]).0,
        "unknown-word"
    );
    let alone = "garment \"X\" { without \"sleeve\"; skirt \"straight\" length=\"600 mm\" }";
    assert_eq!(slip(alone, &[]).0, "without-base");
}

#[test]
fn a_circle_is_told_with_its_way() {
    let a = "garment \"A\" { based-on \"b.kdl\" }";
    let b = "garment \"B\" { based-on \"c.kdl\" }";
    let c = "garment \"C\" { based-on \"own.kdl\" }";
    let files = [("b.kdl", b), ("c.kdl", c), ("own.kdl", a)];
    let findings = opened(a, &files).expect_err("it goes round");
    assert_eq!(findings[0].code, "recipes-in-a-circle");
    let names: Vec<&str> = findings[0]
        .places
        .iter()
        .filter_map(|place| match place {
            Place::Text { span, .. } => Some(span.source.name.as_str()),
            _ => None,
        })
        .collect();
    assert_eq!(names, ["c.kdl", "own.kdl", "b.kdl"]);
    // A file that names itself under ever new names is found by what stands in it.
    let mut count = 0;
    let circle = open(&Source::new("own.kdl", a), &mut |_, _| {
        count += 1;
        Ok(Source::new(format!("{count}.kdl"), a))
    });
    assert_eq!(
        circle.expect_err("it goes round")[0].code,
        "recipes-in-a-circle"
    );
}

#[test]
fn a_tower_of_recipes_comes_to_an_end() {
    let mut count = 0;
    let next = |count: i32| {
        Arc::clone(&Source::new(
            format!("{count}.kdl"),
            format!("garment \"{count}\" {{ based-on \"x.kdl\" }}"),
        ))
    };
    let tower = open(&next(0), &mut |_, _| {
        count += 1;
        Ok(next(count))
    });
    assert_eq!(
        tower.expect_err("it is too high")[0].code,
        "recipes-too-deep"
    );
}
