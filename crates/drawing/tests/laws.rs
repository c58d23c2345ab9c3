//! Laws of drawn pieces, on pieces of many sizes: what is marked lies where it must, and words are clear of everything.

mod reading;
mod samples;

use drawing::{Labels, panel};
use geometry::{Angle, Curve, Point, Vec2, outline};
use pattern::{Laid, Mark, Pattern, Piece};
use proptest::prelude::*;
use sheet::{Colour, Layer, Panel};

/// All that a drawn piece must hold.
fn check(piece: &Piece, labels: &Labels) {
    let panel = panel(piece, labels).expect("the allowances of these pieces leave a cutting line");
    ids_are_unique(&panel);
    edges_are_true(piece, &panel);
    notches_are_square(piece, &panel);
    dart_notches_follow_legs(piece, &panel);
    words_are_clear(&panel);
    words_are_inside(piece, &panel);
    arrow_is_inside(piece, &panel);
}

fn ids_are_unique(panel: &Panel) {
    let mut ids: Vec<&str> = panel
        .items
        .iter()
        .filter_map(|item| item.id.as_deref())
        .collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "{ids:?}");
}

/// Every edge has a path of its name and length.
fn edges_are_true(piece: &Piece, panel: &Panel) {
    for edge in &piece.edges {
        let id = format!("{}.{}", piece.name, edge.name);
        let path = reading::path(panel, &id).unwrap_or_else(|| panic!("{id} is not drawn"));
        let (drawn, meant) = (reading::length(path), edge.length());
        assert!(
            (drawn - meant).abs() < 0.01,
            "{id} is drawn {drawn} long and is {meant}"
        );
    }
}

/// Strokes start on the cutting line, square to it to a degree, and go inwards.
fn notches_are_square(piece: &Piece, panel: &Panel) {
    let cutting = piece.cutting_outline().expect("it was drawn");
    let cut: Vec<&Curve> = cutting.curves().collect();
    for mark in &piece.marks {
        let Mark::Notch {
            name,
            edge,
            strokes,
            ..
        } = mark
        else {
            continue;
        };
        let id = format!("{}.{edge}.{name}", piece.name);
        let path = reading::path(panel, &id).unwrap_or_else(|| panic!("{id} is not drawn"));
        let drawn = reading::chains(path);
        assert_eq!(drawn.len(), usize::from(*strokes));
        for stroke in drawn {
            let (from, to) = (stroke[0], stroke[stroke.len() - 1]);
            let way = (to - from).normalize();
            let is_square = |curve: &&Curve| {
                let near = curve.nearest(from);
                let along = curve.direction_at(near.along);
                // Clockwise, the inside lies a quarter turn on.
                near.distance < 0.02 && along.dot(way).abs() < 0.0175 && along.cross(way) > 0.0
            };
            assert!(cut.iter().any(is_square), "{id} from {from} to {to}");
        }
    }
}

/// The notches of a dart start on the cutting line in line with its legs.
fn dart_notches_follow_legs(piece: &Piece, panel: &Panel) {
    let cutting = piece.cutting_outline().expect("it was drawn");
    for dart in &piece.darts {
        let legs = piece.legs(dart);
        for (mouth, side) in [(legs.before, "before"), (legs.after, "after")] {
            let id = format!("{}.{}.{side}", piece.name, dart.name);
            let Some(path) = reading::path(panel, &id) else {
                continue;
            };
            let from = reading::chains(path)[0][0];
            assert!(
                outline::distance_to(cutting.curves(), from) < 0.02,
                "{id} starts off the cutting line"
            );
            let leg = (mouth - legs.point).normalize();
            assert!(
                leg.cross(from - legs.point).abs() < 0.02,
                "{id} is out of line with its leg"
            );
        }
    }
}

/// No line runs through words and no words lie on others.
fn words_are_clear(panel: &Panel) {
    let all = reading::words(panel);
    for (item, path) in reading::paths(panel) {
        for point in reading::chains(path).concat() {
            let crossed = all
                .iter()
                .find(|one| one.is_on(point))
                .map(|one| &one.words.text);
            assert_eq!(crossed, None, "{:?} at {point} runs through words", item.id);
        }
    }
    for (index, one) in all.iter().enumerate() {
        let text = &one.words.text;
        assert!(one.words.size_mm >= 3.0, "{text:?} is too small to read");
        for other in &all[..index] {
            let clash = one.over().into_iter().find(|point| other.is_on(*point));
            assert_eq!(clash, None, "{text:?} lies on {:?}", other.words.text);
        }
    }
}

/// Words in ink lie inside the seam line and off the darts; quiet ones inside the cutting line.
fn words_are_inside(piece: &Piece, panel: &Panel) {
    let seam = piece.outline_path();
    let cut = piece.cutting_outline().expect("it was drawn").to_path();
    let all = reading::words(panel);
    for one in &all {
        let text = &one.words.text;
        let border = if one.words.colour == Colour::INK {
            &seam
        } else {
            &cut
        };
        for point in one.over() {
            assert!(
                geometry::curve::contains(border, point),
                "{text:?} leaves the piece at {point}"
            );
            for dart in &piece.darts {
                let legs = piece.legs(dart);
                let corners = [legs.point, legs.before, legs.after];
                assert!(
                    !in_triangle(corners, point),
                    "{text:?} lies on {}",
                    dart.name
                );
            }
        }
    }
    let title = piece.title();
    let says_title = all.iter().any(|one| title.starts_with(&one.words.text));
    assert!(says_title, "the piece does not say that it is {title:?}");
}

fn in_triangle([a, b, c]: [Point; 3], point: Point) -> bool {
    let sides = [(a, b), (b, c), (c, a)].map(|(from, to)| (to - from).cross(point - from));
    sides.iter().all(|side| *side > 0.0) || sides.iter().all(|side| *side < 0.0)
}

/// There is one arrow, along the grain, inside the piece.
fn arrow_is_inside(piece: &Piece, panel: &Panel) {
    let path =
        reading::path(panel, &format!("{}.grain", piece.name)).expect("a piece has a grain line");
    let seam = piece.outline_path();
    let chains = reading::chains(path);
    assert!(
        chains
            .iter()
            .flatten()
            .all(|point| geometry::curve::contains(&seam, *point))
    );
    let shaft = &chains[0];
    let way = (shaft[shaft.len() - 1] - shaft[0]).normalize();
    assert!(way.cross(geometry::curve::unit(piece.grain)).abs() < 1e-9);
}

/// A piece stretched across and down.
fn stretched(mut piece: Piece, across: f64, down: f64) -> Piece {
    let by = geometry::Affine::new([across, 0.0, 0.0, down, 0.0, 0.0]);
    let curves = piece.edges.iter_mut().flat_map(|edge| &mut edge.runs);
    for curve in curves.chain(piece.lines.iter_mut().flat_map(|line| &mut line.runs)) {
        *curve = curve.transformed(by);
    }
    for dart in &mut piece.darts {
        dart.point = by * dart.point;
    }
    for mark in &mut piece.marks {
        match mark {
            Mark::Point { at, .. } => *at = by * *at,
            Mark::Notch { along, .. } => *along *= across.min(down),
        }
    }
    piece
}

/// A four-cornered piece whose corners are anywhere near those of a box.
fn slanting(width: f64, height: f64, shifts: [(f64, f64); 4]) -> Piece {
    let mut piece = samples::gathered_skirt(width, height);
    piece.cut.laid = Laid::Single;
    let least = width.min(height);
    let shift = |point: Point, (x, y): (f64, f64)| point + Vec2::new(x, y) * (least * 0.2);
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
    let corners: Vec<Point> = corners
        .into_iter()
        .map(Point::from)
        .zip(shifts)
        .map(|(at, by)| shift(at, by))
        .collect();
    for (index, edge) in piece.edges.iter_mut().enumerate() {
        edge.runs = vec![Curve::line(corners[index], corners[(index + 1) % 4])];
        edge.kind = pattern::EdgeKind::Seam;
        edge.allowance = [15.0, 10.0, 30.0, 0.0][index];
    }
    piece
}

fn any_labels() -> impl Strategy<Value = Labels> {
    let name = prop_oneof![
        Just("Skirt"),
        Just("Linen dress for the summer garden"),
        Just("Concert dress")
    ];
    (name, any::<bool>()).prop_map(|(garment, is_dated)| Labels {
        garment: garment.into(),
        version: "version 12".into(),
        body: "for the cellist".into(),
        date: is_dated.then(|| "2026-11-24".into()),
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn bodices_hold_the_laws(across in 0.7..1.7f64, down in 0.8..1.3f64, labels in any_labels()) {
        check(&stretched(samples::bodice_front(), across, down), &labels);
        check(&stretched(samples::bodice_back(), across, down), &labels);
    }

    #[test]
    fn sleeves_and_skirts_hold_the_laws(across in 0.5..1.6f64, down in 0.5..1.4f64, labels in any_labels()) {
        check(&stretched(samples::sleeve(), across, down), &labels);
        check(&stretched(samples::skirt_front(800.0), across, down), &labels);
        check(&samples::gathered_skirt(1100.0 * across, 900.0 * down), &labels);
    }

    #[test]
    fn bands_hold_the_laws(length in 250.0..1200.0f64, height in 30.0..90.0f64, labels in any_labels()) {
        check(&samples::waistband(length, height), &labels);
    }

    #[test]
    fn slanting_pieces_hold_the_laws(
        width in 90.0..700.0f64,
        height in 90.0..700.0f64,
        shifts in prop::array::uniform4((-1.0..1.0f64, -1.0..1.0f64)),
        grain in 0.0..180.0f64,
        labels in any_labels(),
    ) {
        let mut piece = slanting(width, height, shifts);
        piece.grain = Angle::from_degrees(grain);
        check(&piece, &labels);
    }
}

#[test]
fn words_are_large_where_there_is_room() {
    let roomy = [
        samples::bodice_front(),
        samples::bodice_back(),
        samples::sleeve(),
        samples::skirt_front(900.0),
    ];
    for piece in roomy {
        let panel = panel(&piece, &samples::labels()).expect("it can be cut");
        let all = reading::words(&panel);
        let size = |start: &str| {
            let found = all.iter().find(|one| one.words.text.starts_with(start));
            found.map_or(0.0, |one| one.words.size_mm)
        };
        assert!(size(&piece.title()) >= 7.0, "{}", piece.name);
        assert!(
            size("cut ") >= 4.5 && size("allowance") >= 4.5,
            "{}",
            piece.name
        );
    }
}

#[test]
fn a_piece_too_small_for_words_has_them_beside_it() {
    let piece = samples::tab();
    let panel = panel(&piece, &samples::labels()).expect("it can be cut");
    words_are_clear(&panel);
    let all = reading::words(&panel);
    let title = all.iter().find(|one| one.words.text == "Belt loop");
    assert!(title.is_some_and(|one| one.words.at.y > 28.0));
}

#[test]
fn a_fold_is_not_cut() {
    let panel = panel(&samples::skirt_front(600.0), &samples::labels()).expect("it can be cut");
    let fold = panel
        .items
        .iter()
        .find(|item| item.id.as_deref() == Some("skirt-front.centre"));
    assert_eq!(fold.map(|item| item.layer), Some(Layer::Grain));
    let cut = reading::path(&panel, "skirt-front.cutting-line").expect("it is cut");
    let on_fold = |point: &&Point| point.x.abs() < 0.01 && (10.0..590.0).contains(&point.y);
    assert_eq!(reading::chains(cut).concat().iter().find(on_fold), None);
}

#[test]
fn an_allowance_that_cannot_be_cut_is_a_finding() {
    let mut piece = samples::sleeve();
    piece.edges[0].allowance = -4.0;
    let finding = panel(&piece, &samples::labels()).expect_err("there is no cutting line");
    assert_eq!(finding.code, "no-cutting-line");
    assert!(
        finding.message.starts_with("Sleeve: "),
        "{}",
        finding.message
    );
}

#[test]
fn the_overview_holds_every_piece_once() {
    let pattern = samples::pattern();
    let overview = drawing::overview(&pattern, &samples::labels()).expect("all can be cut");
    assert_eq!(overview.panels.len(), 1);
    ids_are_unique(&overview.panels[0]);
    words_are_clear(&overview.panels[0]);
    let items: usize = drawing::panels(&pattern, &samples::labels())
        .expect("as before")
        .iter()
        .map(|panel| panel.items.len())
        .sum();
    assert_eq!(overview.panels[0].items.len(), items);
}

#[test]
fn the_cutting_list_names_every_piece() {
    let lists = drawing::cutting_list(&samples::pattern());
    let titles: Vec<&str> = lists.iter().map(|list| list.title.as_str()).collect();
    assert_eq!(titles, ["From the shell", "From the interfacing"]);
    let shell = &lists[0].lines;
    assert_eq!(shell[0], "Front: cut 1 on the fold");
    assert_eq!(shell[1], "Back: cut 2 (a pair)");
    assert_eq!(shell[6], "Tie: cut 4 (2 pairs); on the bias");
    assert_eq!(
        lists[1].lines,
        ["Cuff: cut 2 (a pair); cut within the seam line; grain along its length"]
    );
    let count: usize = lists.iter().map(|list| list.lines.len()).sum();
    assert_eq!(count, samples::pattern().pieces.len());
}

#[test]
fn the_legend_tells_of_marks_that_are_there() {
    let alone = |piece| Pattern {
        pieces: vec![piece],
        ..Pattern::default()
    };
    let legend = |piece| {
        let drawing = drawing::drawing(&alone(piece), &samples::labels()).expect("it can be cut");
        drawing.legend.join("\n")
    };
    let (front, tie) = (legend(samples::bodice_front()), legend(samples::tie()));
    for mark in ["bent arrows", "Notches", "dart"] {
        assert!(front.contains(mark) && !tie.contains(mark), "{mark}");
    }
}
