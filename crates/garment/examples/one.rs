//! tmp
#![allow(clippy::print_stdout, missing_docs)]
fn main() {
    let i: usize = std::env::args().nth(1).unwrap().parse().unwrap();
    let t = body::population::draw(i + 1, 7).last().unwrap();
    let b = body::complete(&t);
    println!("body \"P{i}\" {{");
    for m in body::Measure::ALL {
        println!(
            "  {} \"{:.1} {}\"",
            m.key(),
            b.mm(m),
            if m.is_angle() { "deg" } else { "mm" }
        );
    }
    println!("}}");
}
