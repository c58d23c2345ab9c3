//! What is said where a fitted skirt cannot be drawn, with the nearest that can.

use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};

pub(super) fn cannot() -> Finding {
    Finding::error(
        "skirt-cannot-be-drawn",
        "the waist of the skirt cannot be drawn from these measures",
    )
    .at(Place::Measure("waist".into()))
    .at(Place::Measure("hip".into()))
    .cure("tape the waist, the hip and the waist to hip again")
}

pub(in crate::block::skirt) fn too_short(length: f64, least: f64) -> Finding {
    Finding::error(
        "skirt-too-short",
        format!("a fitted skirt of {length:.0} mm ends above or at the hip"),
    )
    .at(Place::Piece("skirt-front".into()))
    .measured(
        Quantity::mm(length),
        Allowed::AtLeast(Quantity::mm(least.ceil())),
    )
    .because("it is fitted down to the hip line and needs a hem below it")
    .mend(Mend::property(
        &["skirt"],
        "length",
        written_mm(least.ceil()),
        "makes the skirt long enough for its cut",
    ))
}

pub(in crate::block::skirt) fn no_sweep(sweep: f64, least: f64, most: f64) -> Finding {
    let finding = Finding::error(
        "skirt-sweep-impossible",
        format!("a hem of {sweep:.0} mm cannot be cut with this flare"),
    )
    .at(Place::Piece("skirt-front".into()))
    .because("the straight skirt is the narrowest, and too wide a flare is no longer one");
    if !least.is_finite() {
        return finding;
    }
    let least = least.ceil();
    let (allowed, nearest) = if most.is_finite() {
        let most = most.floor();
        let allowed = Allowed::Between(Quantity::mm(least), Quantity::mm(most));
        (allowed, if sweep < least { least } else { most })
    } else {
        (Allowed::AtLeast(Quantity::mm(least)), least)
    };
    finding
        .measured(Quantity::mm(sweep), allowed)
        .mend(Mend::property(
            &["skirt"],
            "sweep",
            written_mm(nearest),
            "takes the nearest hem that can be cut",
        ))
}
