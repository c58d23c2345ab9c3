//! The layers view: everything that lies on something is drawn where it lies, and told apart without colour.

mod samples;

use std::collections::BTreeSet;

use geometry::Rect;
use pattern::{Layer as Cloth, Pattern};
use sheet::{Drawing, Item, Layer, Shape};

fn layers(pattern: &Pattern) -> Drawing {
    drawing::layers(pattern, &samples::labels()).expect("something lies behind something")
}

fn named<'a>(drawing: &'a Drawing, panel: &str, name: &str) -> Option<&'a Item> {
    let panel = drawing.panels.iter().find(|one| one.id == panel)?;
    panel
        .items
        .iter()
        .find(|item| item.id.as_deref() == Some(name))
}

fn box_of(item: &Item) -> Rect {
    item.bounds().expect("an outline has a box")
}

#[test]
fn what_lies_on_a_piece_is_drawn_there() {
    let drawing = layers(&samples::layered());
    for (panel, name) in [
        ("front", "front"),
        ("front", "front-lining"),
        ("front", "neck-facing"),
        ("front", "neck-interfacing"),
        ("back", "back"),
        ("back", "neck-facing"),
        ("back", "neck-interfacing"),
        ("back", "side-pocket"),
    ] {
        assert!(named(&drawing, panel, name).is_some(), "{name} on {panel}");
    }
    assert!(named(&drawing, "back", "front-lining").is_none());
    // The pocket lies 5 mm to the right and 10 mm higher than it is drawn.
    let pocket = box_of(named(&drawing, "back", "side-pocket").expect("it is drawn"));
    let middle = pocket.center();
    assert!(
        (middle.x - 160.0).abs() < 1e-6 && (middle.y - 315.0).abs() < 1e-6,
        "{middle}"
    );
}

/// What is joined at the shoulder lies on the back as it is turned there: as far from its shoulder as from the front's.
#[test]
fn a_joined_piece_lies_on_each_of_its_pieces() {
    let drawing = layers(&samples::layered());
    let area = |panel| match &named(&drawing, panel, "neck-facing")
        .expect("it is drawn")
        .shape
    {
        Shape::Path { path, .. } => geometry::curve::enclosed_area(&curves(path)).abs(),
        Shape::Text(_) => 0.0,
    };
    assert!((area("front") - 120.0 * 160.0).abs() < 1e-6);
    assert!((area("back") - area("front")).abs() < 1e-6);
    let [front, back] = ["front", "back"]
        .map(|panel| box_of(named(&drawing, panel, "neck-facing").expect("it is drawn")));
    assert!((front.center() - back.center()).hypot() > 5.0);
}

fn curves(path: &geometry::BezPath) -> Vec<geometry::Curve> {
    let curve = |segment| geometry::Curve::from_segments(vec![segment]).expect("one is enough");
    path.segments().map(curve).collect()
}

#[test]
fn no_two_layers_share_their_dashes() {
    let drawing = layers(&samples::layered());
    let items = drawing.panels.iter().flat_map(|panel| &panel.items);
    let mut seen: Vec<(Layer, String)> = Vec::new();
    for item in items.filter(|item| item.id.is_some()) {
        let Shape::Path {
            line: Some(line), ..
        } = &item.shape
        else {
            panic!("an outline has a line");
        };
        let dash = format!("{:?}", line.dash);
        if let Some((_, known)) = seen.iter().find(|(layer, _)| *layer == item.layer) {
            assert_eq!(*known, dash);
        } else {
            assert!(seen.iter().all(|(_, known)| *known != dash), "{dash}");
            seen.push((item.layer, dash));
        }
    }
    let layers: BTreeSet<Layer> = seen.into_iter().map(|(layer, _)| layer).collect();
    let all = [
        Layer::Interfacing,
        Layer::Lining,
        Layer::Pocket,
        Layer::Facing,
        Layer::Shell,
    ];
    assert_eq!(layers, BTreeSet::from(all));
}

#[test]
fn a_pattern_of_one_layer_has_no_such_view() {
    assert!(drawing::layers(&samples::pattern(), &samples::labels()).is_none());
    let whole = drawing::drawing(&samples::pattern(), &samples::labels()).expect("it can be cut");
    assert!(whole.plates.is_empty());
    let whole = drawing::drawing(&samples::layered(), &samples::labels()).expect("it can be cut");
    assert_eq!(whole.plates.len(), 1);
}

/// A page switches groups by their names.
#[test]
fn the_svg_has_a_group_for_each_layer_of_each_piece() {
    let svg = sheet::svg(&layers(&samples::layered())).expect("it can be written");
    for group in [
        "front.shell",
        "front.lining",
        "front.facing",
        "front.interfacing",
        "back.pocket",
    ] {
        assert!(
            svg.contains(&format!("<g id=\"{group}\" class=\"cloth ")),
            "{group}"
        );
    }
}

#[test]
fn the_cutting_list_says_what_is_joined_and_whose_cloth_it_is() {
    let mut pattern = samples::layered();
    pattern.makeup.cloths.push(pattern::Cloth {
        layer: Cloth::Facing,
        name: "wool crepe".into(),
        width: 1500.0,
        thickness: 0.5,
        weight: 200.0,
        frays: pattern::Fraying::Some,
    });
    let lists = drawing::cutting_list(&pattern);
    let titles: Vec<&str> = lists.iter().map(|list| list.title.as_str()).collect();
    assert_eq!(
        titles,
        [
            "From the shell",
            "From the lining",
            "From the cloth of the facings (wool crepe)",
            "From the interfacing"
        ]
    );
    assert_eq!(
        lists[2].lines,
        ["Neck facing: cut 1; joined at the shoulder"]
    );
    for edge in &mut pattern.pieces[4].edges {
        edge.allowance = 0.0;
    }
    let lists = drawing::cutting_list(&pattern);
    assert_eq!(
        lists[3].lines,
        ["Neck interfacing: cut 1; cut within the seam line"]
    );
}
