//! Laws of the layout: nothing lost, nothing printed in vain, nothing moved, the same every time.

use geometry::{BezPath, Point, Rect, Vec2};
use kurbo::{ParamCurve as _, Shape as _};
use proptest::prelude::*;
use sheet::{
    Drawing, Fault, Item, Layer, Layout, Line, List, Page, Panel, Paper, PaperSize, Shape, Turns,
    Words, lay_out, page_png, pdf, png, svg,
};

fn drawing(panels: Vec<Panel>) -> Drawing {
    Drawing {
        title: "Trial".to_owned(),
        subject: String::new(),
        version: "1".to_owned(),
        date: Some("2026-11-24".to_owned()),
        language: "en".to_owned(),
        panels,
        lists: vec![List {
            title: "To cut".to_owned(),
            lines: vec!["Everything once".to_owned()],
        }],
        plates: Vec::new(),
        legend: vec!["Nothing to know".to_owned()],
    }
}

/// A drop: a point above, a belly below.
fn drop_shape(width: f64, height: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((width / 2.0, 0.0));
    path.curve_to(
        (width, height / 2.0),
        (width, height),
        (width / 2.0, height),
    );
    path.curve_to((0.0, height), (0.0, height / 2.0), (width / 2.0, 0.0));
    path.close_path();
    path
}

fn panel(index: usize, width: f64, height: f64, turns: Turns) -> Panel {
    let path = drop_shape(width, height);
    Panel {
        id: format!("drop-{index}"),
        title: format!("Drop {index}"),
        items: vec![Item::path(Layer::CuttingLine, path, Line::cutting()).named("edge")],
        turns,
    }
}

fn turns() -> impl Strategy<Value = Turns> {
    prop_oneof![Just(Turns::Any), Just(Turns::Half), Just(Turns::None)]
}

fn drawings() -> impl Strategy<Value = Drawing> {
    let size = (20.0..700.0_f64, 20.0..900.0_f64, turns());
    prop::collection::vec(size, 1..7).prop_map(|sizes| {
        let panels = sizes.into_iter().enumerate();
        drawing(
            panels
                .map(|(index, (width, height, turns))| panel(index, width, height, turns))
                .collect(),
        )
    })
}

fn papers() -> impl Strategy<Value = Paper> {
    let size = prop::sample::select(PaperSize::ALL.to_vec());
    (size, 0.0..20.0_f64, 5.0..20.0_f64).prop_map(|(size, margin, overlap)| Paper {
        size,
        margin_mm: (margin * 10.0).round() / 10.0,
        overlap_mm: (overlap * 10.0).round() / 10.0,
    })
}

/// The edges of the pieces that a page shows, in the coordinates of the joined sheet.
fn edges(page: &Page) -> Vec<(String, BezPath)> {
    let Some(window) = page.shows else {
        return Vec::new();
    };
    let shift = window.origin() - page.printed.origin();
    let pieces = page
        .groups
        .iter()
        .filter_map(|group| Some((group.id.clone()?, &group.items)));
    pieces
        .flat_map(|(id, items)| {
            items
                .iter()
                .filter_map(move |item| Some((id.clone(), edge(item)?)))
        })
        .map(|(id, path)| (id, geometry::Affine::translate(shift) * path))
        .collect()
}

fn edge(item: &Item) -> Option<BezPath> {
    match &item.shape {
        Shape::Path { path, .. } if item.id.as_deref() == Some("edge") => Some(path.clone()),
        _ => None,
    }
}

/// The middles of the half diamonds on a page, in the coordinates of the joined sheet, with their numbers.
fn diamonds(page: &Page) -> Vec<(Point, String)> {
    let Some(window) = page.shows else {
        return Vec::new();
    };
    let shift = window.origin() - page.printed.origin();
    let furniture = page.groups.iter().filter(|group| group.id.is_none());
    let items: Vec<&Item> = furniture.flat_map(|group| &group.items).collect();
    let half = |pair: &[&Item]| match (&pair[0].shape, &pair[1].shape) {
        (Shape::Path { path, .. }, Shape::Text(words)) if path.elements().len() == 3 => {
            let bounds: Vec<Point> = path
                .elements()
                .iter()
                .filter_map(geometry::PathEl::end_point)
                .collect();
            Some((bounds[0].midpoint(bounds[2]) + shift, words.text.clone()))
        }
        _ => None,
    };
    items.windows(2).filter_map(half).collect()
}

fn samples(path: &BezPath) -> Vec<Point> {
    let along = |segment: geometry::PathSeg| {
        (0..400).map(move |step| segment.eval(f64::from(step) / 400.0))
    };
    path.segments().flat_map(along).collect()
}

fn farthest(one: &BezPath, other: &BezPath) -> f64 {
    let pairs = samples(one).into_iter().zip(samples(other));
    pairs.map(|(a, b)| a.distance(b)).fold(0.0, f64::max)
}

fn is_tiled(layout: &Layout) -> bool {
    layout.pages[0].shows.is_none()
}

fn windows(layout: &Layout) -> Vec<Rect> {
    layout.pages.iter().filter_map(|page| page.shows).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_point_of_every_edge_is_printed((drawing, paper) in (drawings(), papers())) {
        let layout = lay_out(&drawing, &paper).unwrap();
        let hair = 0.02;
        for panel in &drawing.panels {
            let pages = layout.pages.iter().filter(|page| edges(page).iter().any(|(id, _)| *id == panel.id));
            let pages: Vec<&Page> = pages.collect();
            let (_, path) = edges(pages[0]).into_iter().find(|(id, _)| *id == panel.id).unwrap();
            for point in samples(&path) {
                let shown = pages.iter().any(|page| page.shows.unwrap().inflate(hair, hair).contains(point));
                prop_assert!(shown, "{point:?} of {}", panel.id);
            }
        }
    }

    #[test]
    fn all_tiles_show_an_edge_in_the_same_place((drawing, paper) in (drawings(), papers())) {
        let layout = lay_out(&drawing, &paper).unwrap();
        if is_tiled(&layout) {
            for panel in &drawing.panels {
                let all = layout.pages.iter().flat_map(edges).filter(|(id, _)| *id == panel.id);
                let all: Vec<BezPath> = all.map(|(_, path)| path).collect();
                for path in &all[1..] {
                    prop_assert!(farthest(&all[0], path) < 1e-9);
                }
            }
        }
    }

    #[test]
    fn the_halves_of_every_diamond_meet((drawing, paper) in (drawings(), papers())) {
        let layout = lay_out(&drawing, &paper).unwrap();
        let mut halves: Vec<(Point, String, usize)> = Vec::new();
        for (middle, number) in layout.pages.iter().flat_map(diamonds) {
            let found = halves.iter_mut().find(|(other, _, _)| other.distance(middle) < 1e-6);
            if let Some((_, other, count)) = found {
                prop_assert_eq!(&*other, &number);
                *count += 1;
            } else {
                halves.push((middle, number, 1));
            }
        }
        // Two halves on the sheet with the strip, one on the sheet that is trimmed.
        prop_assert!(halves.iter().all(|(_, _, count)| *count == 3), "{halves:?}");
        prop_assert_eq!(halves.len() % 2, 0);
    }

    #[test]
    fn no_page_is_printed_in_vain((drawing, paper) in (drawings(), papers())) {
        let layout = lay_out(&drawing, &paper).unwrap();
        // A box of ink is at most 6 mm long, so ink lies at most that far from a page that is printed for it.
        let reach = 6.0;
        for page in layout.pages.iter().filter(|page| page.shows.is_some()) {
            let window = page.shows.unwrap().inflate(reach, reach);
            let about = page.groups.iter().any(|group| group.id.as_deref() == Some("about-this-sheet"));
            let inked = edges(page).iter().any(|(_, path)| samples(path).iter().any(|p| window.contains(*p)));
            prop_assert!(about || inked, "{} is empty", page.label);
        }
    }

    #[test]
    fn pieces_keep_apart_and_on_the_paper((drawing, paper) in (drawings(), papers())) {
        let layout = lay_out(&drawing, &paper).unwrap();
        let mut boxes: Vec<(usize, String, Rect)> = Vec::new();
        for (index, page) in layout.pages.iter().enumerate() {
            let sheet = if is_tiled(&layout) { 0 } else { index };
            for (id, path) in edges(page) {
                if !boxes.iter().any(|(_, other, _)| *other == id) {
                    boxes.push((sheet, id, path.bounding_box()));
                }
            }
        }
        prop_assert_eq!(boxes.len(), drawing.panels.len());
        let floor = windows(&layout).into_iter().reduce(|all, one| all.union(one)).unwrap();
        for (index, (sheet, id, one)) in boxes.iter().enumerate() {
            prop_assert!(floor.inflate(0.01, 0.01).contains_rect(*one), "{id} leaves the paper");
            for (_, other_id, other) in boxes[..index].iter().filter(|(on, _, _)| on == sheet) {
                prop_assert!(!one.inflate(5.0, 5.0).overlaps(*other), "{id} touches {other_id}");
            }
        }
    }

    #[test]
    fn a_piece_is_only_turned_as_it_allows((drawing, paper) in (drawings(), papers())) {
        let layout = lay_out(&drawing, &paper).unwrap();
        for panel in &drawing.panels {
            let (_, path) = layout.pages.iter().flat_map(edges).find(|(id, _)| *id == panel.id).unwrap();
            let own = edge(&panel.items[0]).unwrap();
            // The drop's first side runs from its point to its belly.
            let way = |path: &BezPath| path.segments().next().map(|side| side.eval(1.0) - side.eval(0.0)).unwrap();
            let (before, after) = (way(&own), way(&path));
            let (along, across) = (before.dot(after), before.cross(after));
            let size = before.hypot2() * 1e-6;
            match panel.turns {
                Turns::Any => prop_assert!(along.abs() < size || across.abs() < size),
                Turns::Half => prop_assert!(across.abs() < size),
                Turns::None => prop_assert!(across.abs() < size && along > 0.0),
            }
        }
    }

    #[test]
    fn the_same_drawing_gives_the_same_bytes((drawing, paper) in (drawings(), papers())) {
        let write = || pdf(&lay_out(&drawing, &paper).unwrap());
        prop_assert_eq!(write(), write());
        prop_assert_eq!(svg(&drawing).unwrap(), svg(&drawing).unwrap());
    }
}

#[test]
fn the_first_page_bears_both_squares() {
    let trial = drawing(vec![panel(0, 300.0, 500.0, Turns::Any)]);
    for size in PaperSize::ALL {
        let layout = lay_out(&trial, &Paper::new(size)).unwrap();
        let items = || layout.pages[0].groups.iter().flat_map(|group| &group.items);
        for (name, side) in [("test-square-100-mm", 100.0), ("test-square-4-in", 101.6)] {
            let found = items()
                .find(|item| item.id.as_deref() == Some(name))
                .unwrap();
            let Shape::Path { path, .. } = &found.shape else {
                panic!("a square is a path");
            };
            let bounds = path.bounding_box();
            assert!(
                (bounds.width() - side).abs() < 1e-9 && (bounds.height() - side).abs() < 1e-9,
                "{size}"
            );
            assert!(layout.pages[0].printed.contains_rect(bounds), "{size}");
        }
    }
}

#[test]
fn all_words_of_the_cover_lie_on_the_paper() {
    let mut trial = drawing(
        (0..30)
            .map(|index| panel(index, 200.0, 300.0, Turns::Any))
            .collect(),
    );
    trial.title = "A dress for the long evenings of the orchestra in the town hall".to_owned();
    trial.subject = "for a cellist, from the block of her second fitting, with room for the bow arm and a deep hem".to_owned();
    trial.lists[0].lines = (0..80)
        .map(|n| format!("Piece {n} · cut 2 on the double cloth, mirrored"))
        .collect();
    trial.legend = (0..20)
        .map(|n| format!("Sentence {n} that must be known before anything is cut"))
        .collect();
    for size in [
        PaperSize::A4,
        PaperSize::Letter,
        PaperSize::A3,
        PaperSize::Legal,
    ] {
        let layout = lay_out(&trial, &Paper::new(size)).unwrap();
        let covers: Vec<&Page> = layout
            .pages
            .iter()
            .filter(|page| page.shows.is_none())
            .collect();
        assert!(covers.len() > 1, "{size}");
        for (page, item) in covers
            .iter()
            .flat_map(|page| page.groups[0].items.iter().map(move |item| (page, item)))
        {
            let bounds = item.bounds().unwrap();
            let room = page.printed.inflate(1.0, 1.0);
            assert!(
                room.contains_rect(bounds),
                "{size} {}: {item:?}",
                page.label
            );
        }
    }
}

#[test]
fn a_piece_larger_than_the_roll_is_joined_from_lengths_of_it() {
    let trial = drawing(vec![panel(0, 2000.0, 1900.0, Turns::Any)]);
    let layout = lay_out(&trial, &Paper::new(PaperSize::Roll914)).unwrap();
    assert!(is_tiled(&layout));
    assert!(layout.pages.len() > 2);
    let longest = layout
        .pages
        .iter()
        .map(|page| page.height_mm)
        .fold(0.0, f64::max);
    assert!(longest < 2100.0, "cut to what is used, not {longest}");
}

#[test]
fn no_page_is_longer_than_readers_take() {
    let panels = (0..12)
        .map(|index| panel(index, 800.0, 1200.0, Turns::None))
        .collect();
    let layout = lay_out(&drawing(panels), &Paper::new(PaperSize::Roll914)).unwrap();
    assert!(layout.pages.len() > 1);
    for page in layout.pages {
        assert!(
            page.height_mm * 72.0 / 25.4 <= 14_400.0,
            "{}",
            page.height_mm
        );
    }
}

fn fault(change: impl Fn(&mut Drawing)) -> Fault {
    let mut trial = drawing(vec![
        panel(0, 100.0, 200.0, Turns::Any),
        panel(1, 100.0, 200.0, Turns::Any),
    ]);
    change(&mut trial);
    assert_eq!(
        svg(&trial).err(),
        lay_out(&trial, &Paper::new(PaperSize::A4)).err()
    );
    svg(&trial).expect_err("the drawing is unsound")
}

fn line_of(trial: &mut Drawing) -> &mut Line {
    match &mut trial.panels[1].items[0].shape {
        Shape::Path {
            line: Some(line), ..
        } => line,
        other => panic!("a drop has a line, not {other:?}"),
    }
}

#[test]
fn unsound_drawings_are_refused_by_name() {
    assert_eq!(fault(|trial| trial.panels.clear()), Fault::NoPanels);
    let empty = fault(|trial| trial.panels[1].items.clear());
    assert_eq!(
        empty,
        Fault::EmptyPanel {
            panel: "drop-1".to_owned()
        }
    );
    let same = fault(|trial| trial.panels[1].id = "drop-0".to_owned());
    assert_eq!(
        same,
        Fault::SameName {
            panel: "drop-0".to_owned()
        }
    );
    for value in [f64::NAN, f64::INFINITY, 1e9] {
        let shift = geometry::Affine::translate(Vec2::new(value, 0.0));
        let moved = fault(|trial| match &mut trial.panels[1].items[0].shape {
            Shape::Path { path, .. } => path.apply_affine(shift),
            Shape::Text(_) => panic!("a drop is a path"),
        });
        assert!(
            moved
                .to_string()
                .starts_with("piece \"drop-1\", a point of the drawing: found ("),
            "{moved}"
        );
        let width = fault(|trial| line_of(trial).width_mm = value);
        assert!(width.to_string().contains("the width of a line"), "{width}");
        let dash = fault(|trial| line_of(trial).dash = vec![value, 1.0]);
        assert!(dash.to_string().contains("the dashes of a line"), "{dash}");
        let words = fault(|trial| {
            trial.panels[1]
                .items
                .push(Item::text(Words::new(Point::ORIGIN, value, "word")));
        });
        assert!(words.to_string().contains("the size of words"), "{words}");
    }
    let dash = fault(|trial| line_of(trial).dash = vec![0.0, 0.0]);
    assert!(dash.to_string().contains("the dashes of a line"), "{dash}");
}

#[test]
fn a_drawing_for_a_thousand_sheets_is_refused() {
    let panels = (0..6)
        .map(|index| panel(index, 9000.0, 9000.0, Turns::Any))
        .collect();
    let Err(fault) = lay_out(&drawing(panels), &Paper::new(PaperSize::A4)) else {
        panic!("nobody prints that");
    };
    assert!(
        fault.to_string().ends_with("choose a larger paper"),
        "{fault}"
    );
}

#[test]
fn papers_without_room_are_refused() {
    let trial = drawing(vec![panel(0, 100.0, 100.0, Turns::Any)]);
    for (margin_mm, overlap_mm) in [(-1.0, 10.0), (f64::NAN, 10.0), (8.0, 0.0), (80.0, 10.0)] {
        let paper = Paper {
            size: PaperSize::A4,
            margin_mm,
            overlap_mm,
        };
        assert!(matches!(lay_out(&trial, &paper), Err(Fault::NoRoom { .. })));
    }
}

#[test]
fn pictures_have_the_size_asked_for() {
    let trial = drawing(vec![panel(0, 100.0, 200.0, Turns::Any)]);
    let layout = lay_out(&trial, &Paper::new(PaperSize::A4)).unwrap();
    for picture in [
        png(&trial, 200).unwrap(),
        page_png(&layout, 0, 200).unwrap(),
    ] {
        // The width stands in the header chunk of a PNG (ISO/IEC 15948, 11.2.2).
        assert_eq!(picture[16..20], 200_u32.to_be_bytes());
    }
    assert_eq!(png(&trial, 3), Err(Fault::PictureSize { found: 3 }));
    assert!(matches!(
        page_png(&layout, 99, 200),
        Err(Fault::NoSuchPage { found: 99, .. })
    ));
}
