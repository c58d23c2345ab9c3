//! Drafts a population and prints the spread of what comes out: `population [COUNT] [SEED]`.
#![allow(clippy::print_stdout, missing_docs)]
use std::collections::BTreeMap;
fn main() {
    let n: usize = std::env::args()
        .nth(1)
        .and_then(|a| a.parse().ok())
        .unwrap_or(2000);
    let mut codes: BTreeMap<String, usize> = BTreeMap::new();
    let mut cols: [Vec<f64>; 6] = Default::default();
    for recipe in ["concert-dress", "linen-dress", "plain-skirt"] {
        let path = format!("examples/{recipe}.kdl");
        let recipe = garment::recipe::read(&document::Source::new(
            path.clone(),
            std::fs::read_to_string(&path).unwrap(),
        ))
        .unwrap();
        let start = std::time::Instant::now();
        for (i, tape) in body::population::draw(n, 7).enumerate() {
            let body = body::complete(&tape);
            match garment::make(&recipe, &body) {
                Err(f) => {
                    *codes
                        .entry(format!("{} FAIL {} ", path, f.code))
                        .or_default() += 1;
                    if codes[&format!("{} FAIL {} ", path, f.code)] < 3 {
                        println!("{i} {}", f.message);
                    }
                }
                Ok(m) => {
                    for f in pattern::check::all(&m.pattern) {
                        let k = format!("{} {} {}", path, f.severity.word(), f.code);
                        *codes.entry(k.clone()).or_default() += 1;
                        if codes[&k] < 4 {
                            println!(
                                "{i} bust {:.0} {k}: {}",
                                body.mm(body::Measure::Bust),
                                f.message
                            );
                        }
                    }
                    if let (Some(w), Some(fr), Some(bk)) = (
                        &m.witnesses,
                        m.pattern.piece("front"),
                        m.pattern.piece("back"),
                    ) {
                        if path.contains("concert") {
                            let (fa, ba) =
                                (fr.edge("armhole").unwrap(), bk.edge("armhole").unwrap());
                            cols[0].push(w.joined.degrees);
                            cols[1]
                                .push((fa.length() + ba.length()) / body.mm(body::Measure::Bust));
                            cols[2].push(
                                (fa.length() + ba.length()) / body.mm(body::Measure::Armscye),
                            );
                            cols[3].push((fa.end().y - fa.start().y) / (ba.end().y - ba.start().y));
                            cols[4].push(w.girths.degrees);
                            cols[5].push(w.lengths.degrees);
                        }
                    }
                }
            }
        }
        println!("{path}: {:?} each", start.elapsed() / n as u32);
    }
    for (k, v) in &codes {
        println!("{v}x {k}");
    }
    for (name, c) in [
        "dart",
        "armhole/bust",
        "armhole/armscye",
        "front/back armhole",
        "girths",
        "lengths",
    ]
    .iter()
    .zip(&mut cols)
    {
        c.sort_by(f64::total_cmp);
        if c.is_empty() {
            continue;
        }
        let q = |p: f64| c[((c.len() - 1) as f64 * p) as usize];
        println!(
            "{name}: 5% {:.3} median {:.3} 95% {:.3} min {:.3} max {:.3}",
            q(0.05),
            q(0.5),
            q(0.95),
            q(0.0),
            q(1.0)
        );
    }
}
