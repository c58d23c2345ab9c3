//! Draws the pieces of a recipe on a body, for looking at while drafting: `look RECIPE BODY [OUT.svg]`.
#![allow(clippy::print_stdout, missing_docs)]
use document::Source;
use std::fmt::Write as _;
fn main() {
    let args: Vec<String> = std::env::args().collect();
    let read = |p: &str| Source::new(p, std::fs::read_to_string(p).unwrap());
    let recipe = match garment::recipe::read(&read(&args[1])) {
        Ok(r) => r,
        Err(f) => {
            for f in f {
                println!("{}: {} {}", f.code, f.message, f.cure);
            }
            return;
        }
    };
    let tape = body::read(&read(&args[2]))
        .unwrap_or_else(|f| panic!("{:?}", f.iter().map(|f| &f.message).collect::<Vec<_>>()));
    let body = body::complete(&tape);
    let made = match garment::make(&recipe, &body) {
        Ok(m) => m,
        Err(f) => {
            println!("{}: {} | {}", f.code, f.message, f.cure);
            return;
        }
    };
    if let Some(w) = &made.witnesses {
        println!(
            "girths {:.1}±{:.1} lengths {:.1}±{:.1} joined {:.1}±{:.1} apart {:.2}",
            w.girths.degrees,
            w.girths.spread,
            w.lengths.degrees,
            w.lengths.spread,
            w.joined.degrees,
            w.joined.spread,
            w.apart
        );
    }
    for f in pattern::check::all(&made.pattern) {
        println!(
            "{} {}: {} | {}",
            f.severity.word(),
            f.code,
            f.message,
            f.cure
        );
    }
    for g in &made.pattern.girths {
        println!(
            "girth {} body {:.1} ease {:.1} closed {:.2}",
            g.level,
            g.body,
            g.ease,
            made.pattern.girth(g)
        );
    }
    let mut svg = String::new();
    let (mut x0, mut h) = (0.0f64, 0.0f64);
    for piece in &made.pattern.pieces {
        let cut = piece.cutting_outline();
        let path = cut
            .as_ref()
            .map(|c| c.to_path())
            .unwrap_or_else(|_| piece.outline_path());
        let b = kurbo_bounds(&path);
        let (dx, dy) = (x0 - b.0 + 20.0, 20.0 - b.1);
        write!(svg, "<g transform='translate({dx},{dy})' fill='none'>").unwrap();
        write!(svg, "<path d='{}' stroke='black'/>", d(&path)).unwrap();
        write!(
            svg,
            "<path d='{}' stroke='blue' stroke-dasharray='6 3'/>",
            d(&piece.outline_path())
        )
        .unwrap();
        for dart in &piece.darts {
            let l = piece.legs(dart);
            write!(
                svg,
                "<path d='M{} {}L{} {}L{} {}' stroke='red'/>",
                l.before.x, l.before.y, l.point.x, l.point.y, l.after.x, l.after.y
            )
            .unwrap();
            println!(
                "{} {} intake {:.1} angle {:.1} legs {:.1}",
                piece.name,
                dart.name,
                l.intake(),
                l.angle().degrees(),
                l.lengths()[0]
            );
        }
        for l in &piece.lines {
            for r in &l.runs {
                write!(
                    svg,
                    "<path d='{}' stroke='green' stroke-dasharray='2 2'/>",
                    d(&r.to_path())
                )
                .unwrap();
            }
        }
        for m in &piece.marks {
            match m {
                pattern::Mark::Point { at, .. } => write!(
                    svg,
                    "<circle cx='{}' cy='{}' r='3' stroke='red'/>",
                    at.x, at.y
                )
                .unwrap(),
                pattern::Mark::Notch { edge, along, .. } => {
                    let (p, _) = piece.edge(edge).unwrap().place_at(*along);
                    write!(
                        svg,
                        "<circle cx='{}' cy='{}' r='3' fill='orange'/>",
                        p.x, p.y
                    )
                    .unwrap()
                }
            }
        }
        svg.push_str("</g>");
        print!("{} area {:.0}cm2:", piece.name, piece.area() / 100.0);
        for e in &piece.edges {
            print!(" {} {:.1}", e.name, e.length());
        }
        println!();
        x0 += b.2 - b.0 + 30.0;
        h = h.max(b.3 - b.1 + 40.0);
    }
    let out = args.get(3).cloned().unwrap_or("/tmp/look.svg".into());
    std::fs::write(out, format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {x0} {h}' width='{x0}' height='{h}'><rect width='100%' height='100%' fill='white'/>{svg}</svg>")).unwrap();
}
fn kurbo_bounds(p: &geometry::BezPath) -> (f64, f64, f64, f64) {
    let mut b = (1e9f64, 1e9f64, -1e9f64, -1e9f64);
    for e in p.elements() {
        if let Some(q) = e.end_point() {
            b = (b.0.min(q.x), b.1.min(q.y), b.2.max(q.x), b.3.max(q.y));
        }
    }
    b
}

fn d(p: &geometry::BezPath) -> String {
    use geometry::PathEl::*;
    p.elements()
        .iter()
        .map(|e| match e {
            MoveTo(a) => format!("M{} {}", a.x, a.y),
            LineTo(a) => format!("L{} {}", a.x, a.y),
            QuadTo(a, b) => format!("Q{} {} {} {}", a.x, a.y, b.x, b.y),
            CurveTo(a, b, c) => format!("C{} {} {} {} {} {}", a.x, a.y, b.x, b.y, c.x, c.y),
            ClosePath => "Z".into(),
        })
        .collect()
}
