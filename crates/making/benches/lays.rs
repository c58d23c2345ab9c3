//! What lays of the demo garments cost: the first lay that is shown, the lays of all cloths for the papers, and their pages.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use cloth::answers::Trials;
use cloth::lay::{Effort, Told, Way, Wishes};
use cloth::nest::Continue;
use divan::Bencher;
use document::{Finding, Source};
use making::answers::{self, Ask};
use making::draft::{Draft, Shelf, Wanted, draft, draft_text};
use making::lays::{self, Laid};

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

/// A garment's text with what is needed to ask about its cloth.
fn asked<T>(name: &str, question: impl Fn(&Ask<'_>, &Laid) -> T) -> T {
    let draft = drafted(name);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let garment = folder.join(format!("{name}.kdl"));
    let source = Disk.text(&garment.to_string_lossy(), "a garment");
    let (source, trials) = (source.expect("it is there"), Trials::default());
    let mut goods = lays::goods(&draft).remove(0);
    goods.cloth.length = Some(2000.0);
    let wishes = Wishes::default();
    let effort = Effort {
        evaluations: Some(trials.evaluations),
        time: None,
        seed: 1,
    };
    let mut go_on = |_: Told<'_>| Continue::Yes;
    let laid = lays::lay_out(&draft, &goods, &wishes, &effort, &[], &mut go_on);
    let ask = Ask {
        source: &source,
        bases: &[],
        draft: &draft,
        goods: &goods,
        wishes: &wishes,
        trials: &trials,
    };
    question(&ask, &laid.expect("it can be laid"))
}

/// What every change would save on the outside.
#[divan::bench(args = DEMOS, sample_count = 3, sample_size = 1)]
fn savings(name: &str) {
    asked(name, |ask, laid| {
        let mut hear = |_: &str| Continue::Yes;
        answers::saved(ask, laid, &mut hear).expect("it can be asked")
    });
}

/// As long as two metres allow.
#[divan::bench(args = DEMOS, sample_count = 3, sample_size = 1)]
fn most(name: &str) {
    asked(name, |ask, _| {
        let number = answers::number(&ask.draft.recipe, "skirt.length").expect("it has one");
        let mut drafter = |text: &Arc<Source>| {
            let wanted = Wanted {
                garment: &text.name,
                body: None,
                even_so: false,
            };
            draft_text(&mut Disk, &wanted, text)
        };
        let mut hear = |_: &str| Continue::Yes;
        answers::most(ask, number, (&[], None), &mut drafter, &mut hear).expect("it can be asked")
    });
}
