//! Whatever is asked, the answer is JSON with a problem or a view, and never a mistake of the program.

mod common;

use std::cell::OnceCell;

use axum::body::Body;
use axum::http::StatusCode;
use common::Bench;
use proptest::prelude::*;
use serde_json::{Value, json};

const GETS: [&str; 15] = [
    "/api/book",
    "/api/last",
    "/api/text",
    "/api/body",
    "/api/garment",
    "/api/parts",
    "/api/print",
    "/api/print/page",
    "/api/print/file",
    "/api/notes",
    "/api/history",
    "/api/history/overlay",
    "/api/difference",
    "/api/lay",
    "/api/lay/now",
];

const POSTS: [&str; 18] = [
    "/api/book/begin",
    "/api/book/garment",
    "/api/undo",
    "/api/redo",
    "/api/text",
    "/api/body/try",
    "/api/body/keep",
    "/api/garment/drag",
    "/api/garment/drag-end",
    "/api/garment/number",
    "/api/garment/step",
    "/api/garment/mend",
    "/api/notes",
    "/api/history/go-back",
    "/api/nothing",
    "/api/lay/start",
    "/api/lay/stop",
    "/api/lay/answers",
];

const NAMES: [&str; 6] = [
    "concert-dress.kdl",
    "bodies/cellist.kdl",
    "plain-skirt.kdl",
    "fittings/plain-skirt.kdl",
    "../x",
    "",
];

const WORDS: [&str; 24] = [
    "",
    "29",
    "29 in",
    "-5 mm",
    "1e308",
    "neckline.depth",
    "skirt.length",
    "step.0.by",
    "step.99999999999999999999.by",
    "add",
    "move",
    "mute",
    "note",
    "remove",
    "demo",
    "own",
    "flare",
    "transfer",
    "\"\\",
    "\u{202e}\0",
    "front.bust-dart",
    "garment \"x\" { skirt \"straight\" length=\"600 mm\" }",
    "body \"x\" { bust \"92 cm\" }",
    "2026-12-01",
];

fn leaf() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        (-3_i64..12).prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        proptest::sample::select(WORDS.to_vec()).prop_map(Value::from),
        proptest::sample::select(NAMES.to_vec()).prop_map(Value::from),
        ".{0,12}".prop_map(Value::from),
    ]
}

/// An object with the fields that requests have, each right, wrong or missing.
fn sent() -> impl Strategy<Value = Value> {
    let texts = proptest::collection::vec(proptest::sample::select(WORDS.to_vec()), 0..3);
    let fixed = (
        proptest::sample::select(NAMES.to_vec()),
        0_u32..4,
        proptest::sample::select(WORDS.to_vec()),
        proptest::sample::select(WORDS.to_vec()),
        (-2000.0..2000.0_f64, -2000.0..2000.0_f64),
        0_u32..4,
        texts,
    );
    let wild = proptest::collection::vec((0_usize..16, leaf()), 0..3);
    (fixed, wild).prop_map(|((name, on, word, other, (x, y), index, texts), wild)| {
        let mut sent = json!({
            "name": name, "on": on, "id": word, "written": other, "handle": word, "to": [x, y], "do": word,
            "index": index, "step": other, "fields": {"dart": word, "by": other}, "note": other, "how": word,
            "measures": {"waist": texts, "bust": [other]}, "text": other, "reason": word, "finding": word,
            "number": index, "about": name, "date": word, "words": other, "title": other, "body": name,
            "from": name, "kind": word, "layer": word, "way": other, "seconds": 0.1, "job": index,
            "held": [{"piece": word, "copy": index, "x": x, "y": y}],
        });
        let keys: Vec<String> = sent.as_object().expect("an object").keys().cloned().collect();
        for (at, value) in wild {
            sent[&keys[at % keys.len()]] = value;
        }
        sent
    })
}

thread_local! {
    static BENCH: OnceCell<Bench> = const { OnceCell::new() };
}

/// One book for all, so that what was stored before is met again.
fn with_bench<T>(work: impl FnOnce(&Bench) -> T) -> T {
    BENCH.with(|bench| work(bench.get_or_init(Bench::demo)))
}

fn is_sound(address: &str, status: StatusCode, answer: &Value) -> Result<(), TestCaseError> {
    prop_assert!(
        status != StatusCode::INTERNAL_SERVER_ERROR,
        "{address}: {answer}"
    );
    if !status.is_success() {
        let problem = &answer["problem"];
        for field in ["code", "message", "next"] {
            prop_assert!(
                problem[field].as_str().is_some_and(|text| !text.is_empty()),
                "{address} {status}: {answer}"
            );
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_sent_is_answered(address in proptest::sample::select(POSTS.to_vec()), sent in sent()) {
        let (status, answer) = with_bench(|bench| bench.try_post(address, &sent));
        is_sound(address, status, &answer)?;
    }

    #[test]
    fn bytes_that_are_no_json_are_answered(address in proptest::sample::select(POSTS.to_vec()), bytes in proptest::collection::vec(any::<u8>(), 0..60)) {
        let (status, answer) = with_bench(|bench| {
            let request = bench.request("POST", address).body(Body::from(bytes));
            let (status, _, bytes) = bench.send(request.expect("the request is sound"));
            (status, serde_json::from_slice(&bytes).unwrap_or_default())
        });
        is_sound(address, status, &answer)?;
    }

    #[test]
    fn what_is_asked_is_answered(
        address in proptest::sample::select(GETS.to_vec()),
        name in proptest::sample::select(NAMES.to_vec()),
        rest in "(&(a|b|from|page|paper|file|units|known|to|job|since)=(0|1|2|99999999999|a4|x|inch|%7B%7D|%22|pieces\\.svg)){0,4}",
    ) {
        let address = format!("{address}?name={name}{rest}");
        let request = with_bench(|bench| {
            let request = bench.request("GET", &address).body(Body::empty()).expect("the request is sound");
            bench.send(request)
        });
        let (status, _, bytes) = request;
        if status.is_success() {
            prop_assert!(!bytes.is_empty());
        } else {
            is_sound(&address, status, &serde_json::from_slice(&bytes).unwrap_or_default())?;
        }
    }
}
