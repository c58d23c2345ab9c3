use super::super::Mend;
use super::apply;
use crate::source::Source;

const DRESS: &str = "// A dress.
garment \"Dress\" {
    version \"1\" // as I count

    allowances {
        seam \"15 mm\"   // wide
        hem \"50 mm\"
    } // allowances
    skirt \"a-line\" length=\"600 mm\" /* long */ sweep=\"1600 mm\"
    ease { bust \"60 mm\"; waist \"30 mm\" }
    hems {}
    steps {
        // first this
        flare by=\"1 cm\"
        flare by=\"2 cm\"
    }
}
";

fn mended(mend: &Mend) -> String {
    mended_over(&[], mend)
}

fn mended_over(bases: &[&str], mend: &Mend) -> String {
    let bases: Vec<_> = bases
        .iter()
        .map(|text| Source::new("base.kdl", *text))
        .collect();
    apply(&Source::new("dress.kdl", DRESS), &bases, &mend.changes).expect("the mend can be applied")
}

/// Only the one stretch differs.
fn differs(mended: &str, old: &str, new: &str) {
    assert_eq!(mended, DRESS.replacen(old, new, 1));
}

#[test]
fn a_line_goes_behind_the_last_one_of_its_block() {
    differs(
        &mended(&Mend::line("steps", "grain piece=\"front\"", "")),
        "by=\"2 cm\"\n",
        "by=\"2 cm\"\n        grain piece=\"front\"\n",
    );
    differs(
        &mended(&Mend::line("ease", "hip \"80 mm\"", "")),
        "waist \"30 mm\" }",
        "waist \"30 mm\"; hip \"80 mm\" }",
    );
    differs(
        &mended(&Mend::line("hems", "skirt \"faced\"", "")),
        "hems {}",
        "hems {\n        skirt \"faced\"\n    }",
    );
}

#[test]
fn a_block_that_is_not_there_is_made() {
    differs(
        &mended(&Mend::line(&["facings", "neck"], "tape \"10 mm\"", "")),
        "cm\"\n    }\n}",
        "cm\"\n    }\n    facings {\n        neck {\n            tape \"10 mm\"\n        }\n    }\n}",
    );
    differs(
        &mended(&Mend::line("skirt", "lining \"bagged\"", "")),
        "sweep=\"1600 mm\"",
        "sweep=\"1600 mm\" {\n        lining \"bagged\"\n    }",
    );
}

#[test]
fn a_value_and_a_property_give_way() {
    differs(
        &mended(&Mend::value(&["allowances", "hem"], "\"30 mm\"", "")),
        "hem \"50 mm\"",
        "hem \"30 mm\"",
    );
    differs(
        &mended(&Mend::property("skirt", "length", "\"650 mm\"", "")),
        "length=\"600 mm\"",
        "length=\"650 mm\"",
    );
    differs(
        &mended(&Mend::property("skirt", "hem", "\"faced\"", "")),
        "sweep=\"1600 mm\"",
        "sweep=\"1600 mm\" hem=\"faced\"",
    );
    differs(
        &mended(&Mend::property(&["steps", "flare#2"], "by", "\"3 cm\"", "")),
        "2 cm",
        "3 cm",
    );
    differs(
        &mended(&Mend::property(
            &["hems", "skirt"],
            "depth",
            "\"30 mm\"",
            "",
        )),
        "hems {}",
        "hems {\n        skirt depth=\"30 mm\"\n    }",
    );
}

#[test]
fn a_statement_goes_with_its_line_and_comments_above_stay() {
    differs(
        &mended(&Mend::remove(&["steps", "flare"], "")),
        "        flare by=\"1 cm\"\n",
        "",
    );
    differs(
        &mended(&Mend::remove(&["ease", "bust"], "")),
        "bust \"60 mm\";",
        "",
    );
}

#[test]
fn what_a_base_says_is_overridden_and_never_changed() {
    let base =
        "garment \"Block\" { sleeve ease=\"50 mm\" hem=\"24 cm\"; steps { cut from=\"a\" } }";
    differs(
        &mended_over(&[base], &Mend::property("sleeve", "ease", "\"60 mm\"", "")),
        "cm\"\n    }\n}",
        "cm\"\n    }\n    sleeve ease=\"60 mm\" hem=\"24 cm\"\n}",
    );
    differs(
        &mended_over(&[base], &Mend::remove("sleeve", "")),
        "cm\"\n    }\n}",
        "cm\"\n    }\n    without \"sleeve\"\n}",
    );
    let refused = apply(
        &Source::new("dress.kdl", DRESS),
        &[Source::new("base.kdl", base)],
        &Mend::property(&["steps", "cut"], "from", "\"b\"", "").changes,
    );
    assert_eq!(
        refused.expect_err("a step of a base stays").code,
        "mend-not-possible"
    );
}

#[test]
fn lines_end_as_they_did() {
    let text = DRESS.replace('\n', "\r\n");
    let mend = Mend::line("steps", "notch", "");
    let mended = apply(&Source::new("dress.kdl", text), &[], &mend.changes)
        .expect("the mend can be applied");
    assert!(mended.contains("by=\"2 cm\"\r\n        notch\r\n    }"));
    assert_eq!(mended.matches('\n').count(), mended.matches("\r\n").count());
}

#[test]
fn what_cannot_be_done_is_said() {
    let source = Source::new("dress.kdl", DRESS);
    for mend in [
        Mend::remove(&["steps", "cut"], ""),
        Mend::property(&["steps", "flare#7"], "by", "\"1 cm\"", ""),
        Mend::line("steps", "grain \"", ""),
    ] {
        let refused = apply(&source, &[], &mend.changes);
        assert_eq!(
            refused.expect_err("nothing can be changed").code,
            "mend-not-possible"
        );
    }
}
