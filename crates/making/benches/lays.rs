//! What lays of the demo garments cost: the first lay that is shown, the lays of all cloths for the papers, and their pages.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use cloth::lay::{Effort, Told, Way, Wishes};
use cloth::nest::Continue;
use divan::Bencher;
use document::{Finding, Source};
use making::draft::{Draft, Shelf, Wanted, draft};
use making::lays;

fn main() {
    divan::main();
}

const DEMOS: [&str; 3] = ["concert-dress", "linen-dress", "plain-skirt"];

struct Disk;

impl Shelf for Disk {
    fn text(&mut self, name: &str, _what: &str) -> Result<Arc<Source>, Finding> {
        let text = fs::read_to_string(name).expect("the examples are there");
        Ok(Source::new(name, text))
    }
}

fn drafted(name: &str) -> Draft {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let garment = folder.join(format!("{name}.kdl"));
    let wanted = Wanted {
        garment: &garment.to_string_lossy(),
        body: None,
        even_so: false,
    };
    draft(&mut Disk, &wanted).expect("the examples are sound")
}

/// From a draft to a proven lay of the outside in a single layer.
#[divan::bench(args = DEMOS, sample_count = 9, sample_size = 1)]
fn first_lay(bencher: Bencher, name: &str) {
    let draft = drafted(name);
    let goods = lays::goods(&draft).remove(0);
    let wishes = Wishes {
        ways: vec![Way::Open],
        ..Wishes::default()
    };
    let effort = Effort {
        evaluations: Some(0),
        ..Effort::default()
    };
    bencher.bench(|| {
        let mut go_on = |_: Told<'_>| Continue::Yes;
        lays::lay_out(&draft, &goods, &wishes, &effort, &[], &mut go_on)
    });
}

/// The lays of all cloths as `make` searches them.
#[divan::bench(args = DEMOS, sample_count = 5, sample_size = 1)]
fn lays_of_papers(bencher: Bencher, name: &str) {
    let draft = drafted(name);
    bencher.bench(|| lays::quick(&draft));
}

/// A page for each of these lays.
#[divan::bench(args = DEMOS, sample_count = 5, sample_size = 1)]
fn pages(bencher: Bencher, name: &str) {
    let draft = drafted(name);
    let laid = lays::quick(&draft);
    bencher.bench(|| lays::pages(&draft, &laid, sheet::PaperSize::A4));
}
