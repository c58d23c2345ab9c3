//! The story of three evenings over HTTP, without a browser, and what two windows may do to each other.

mod common;

use axum::http::StatusCode;
use common::{Bench, find};
use serde_json::{Value, json};

const DRESS: &str = "concert-dress.kdl";

fn measure<'a>(body: &'a Value, key: &str) -> &'a Value {
    let groups = body["groups"].as_array().expect("there are groups");
    let measures = groups
        .iter()
        .filter_map(|group| group["measures"].as_array());
    let found = measures.flatten().find(|measure| measure["key"] == key);
    found.expect("every measure is there")
}

fn number<'a>(garment: &'a Value, id: &str) -> &'a Value {
    find(&garment["numbers"], "id", id)
}

#[test]
fn first_evening_a_body_and_its_block() {
    let bench = Bench::new();
    assert_eq!(bench.get("/api/book")["empty"], true);
    let book = bench.post("/api/book/begin", &json!({"how": "own", "name": "Rosalba"}));
    assert_eq!(
        find(&book["documents"], "kind", "body")["name"],
        "bodies/rosalba.kdl"
    );
    let block = find(&book["documents"], "kind", "block");
    assert_eq!(block["body"], "bodies/rosalba.kdl");

    // Her waist is typed as 29; the page asks whether that is inches.
    let name = "bodies/rosalba.kdl";
    let tried = bench.post(
        "/api/body/try",
        &json!({"name": name, "measures": {"waist": ["29"]}}),
    );
    let waist = measure(&tried, "waist");
    assert_eq!(waist["plausible"], "error");
    assert_eq!(waist["asks"]["words"], "29: is that inches?");
    let (status, _) = bench.try_post(
        "/api/body/keep",
        &json!({"name": name, "on": 1, "measures": {"waist": ["29"]}}),
    );
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    let written = &waist["asks"]["mends"][0]["written"];
    let kept = bench.post(
        "/api/body/keep",
        &json!({"name": name, "on": 1, "measures": {"waist": written}}),
    );
    assert_eq!(kept["revision"], 2);
    // The inch is 25.4 mm exactly (international yard and pound agreement of 1959).
    assert_eq!(measure(&kept, "waist")["value"], 736.6);

    let more = json!({"bust": ["94"], "hip": ["101"], "back-waist-length": ["40.5 cm"], "stature": ["1.68 m"]});
    let kept = bench.post(
        "/api/body/keep",
        &json!({"name": name, "on": 2, "measures": more}),
    );
    assert_eq!(measure(&kept, "bust")["shown"], "94.0 cm");
    assert_eq!(measure(&kept, "upper-chest")["origin"], "estimated");
    let wrist = measure(&kept, "wrist");
    assert!(
        wrist["spread_shown"]
            .as_str()
            .is_some_and(|shown| shown.starts_with('±'))
    );

    // The block is there and follows the body.
    let block = bench.get(&format!(
        "/api/garment?name={}",
        block["name"].as_str().expect("a name")
    ));
    assert!(
        !block["drawing"]["pieces"]
            .as_array()
            .expect("pieces")
            .is_empty()
    );
    assert!(block["newer"]["words"].is_string());
}

#[test]
fn second_evening_notes_and_steps() {
    let bench = Bench::demo();
    let note = json!({"about": {"name": DRESS, "revision": 1}, "date": "2026-12-02", "words": "gapes 12 mm\nat the armhole, \"bow side\""});
    let notes = bench.post("/api/notes", &note);
    assert_eq!(
        notes["notes"][0]["words"],
        "gapes 12 mm\nat the armhole, \"bow side\""
    );
    let add = json!({
        "name": DRESS, "on": 1, "do": "add", "step": "shorten-dart",
        "fields": {"dart": "front.bust-dart", "before": "35 mm"}, "note": "stood off in a peak"
    });
    let dress = bench.post("/api/garment/step", &add);
    assert_eq!(dress["revision"], 2);
    let step = &dress["steps"][0];
    assert_eq!(
        (&step["name"], &step["note"]),
        (&json!("shorten-dart"), &json!("stood off in a peak"))
    );
    let dress = bench.post(
        "/api/garment/step",
        &json!({"name": DRESS, "on": 2, "do": "mute", "index": 0}),
    );
    assert_eq!(dress["steps"][0]["muted"], true);
    let dress = bench.post(
        "/api/garment/step",
        &json!({"name": DRESS, "on": 3, "do": "unmute", "index": 0}),
    );
    assert_eq!(dress["steps"][0]["muted"], false);
    let add = json!({
        "name": DRESS, "on": 4, "do": "add", "step": "shorten-dart",
        "fields": {"dart": "back.waist-dart", "before": "20 mm"}
    });
    bench.post("/api/garment/step", &add);
    let dress = bench.post(
        "/api/garment/step",
        &json!({"name": DRESS, "on": 5, "do": "move", "index": 1, "to": 0}),
    );
    let numbers = &dress["steps"][0]["numbers"];
    assert_eq!(
        find(numbers, "id", "step.0.dart")["shown"],
        "back.waist-dart"
    );
    let dress = bench.post(
        "/api/garment/step",
        &json!({"name": DRESS, "on": 6, "do": "remove", "index": 1}),
    );
    assert_eq!(dress["steps"].as_array().map(Vec::len), Some(1));
    assert_eq!(
        bench.get(&format!("/api/notes?name={DRESS}"))["notes"][0]["stale"],
        true
    );
}

#[test]
fn third_evening_the_dress_is_styled_and_printed() {
    let bench = Bench::demo();
    let dress = bench.get(&format!("/api/garment?name={DRESS}"));
    assert_eq!(number(&dress, "neckline.depth")["shown"], "95 mm");
    assert_eq!(number(&dress, "ease.hip")["written"], false);
    let set = json!({"name": DRESS, "on": 1, "id": "skirt.fullness", "written": "2.05"});
    let dress = bench.post("/api/garment/number", &set);
    assert_eq!(number(&dress, "skirt.fullness")["value"], 2.05);
    assert!(
        dress["text"]
            .as_str()
            .is_some_and(|text| text.contains("fullness=2.05 length=\"720 mm\""))
    );
    let inch = json!({"name": DRESS, "on": 2, "id": "neckline.depth", "written": "3 1/2"});
    let dress = bench.post("/api/garment/number?units=inch", &inch);
    assert_eq!(number(&dress, "neckline.depth")["value"], 88.9);
    assert_eq!(dress["can_undo"], "Undo: Neck depth 3 1/2 in");
    let usual = json!({"name": DRESS, "on": 3, "id": "ease.across-back", "written": ""});
    let dress = bench.post("/api/garment/number", &usual);
    assert_eq!(number(&dress, "ease.across-back")["written"], false);
    let (status, refused) = bench.try_post(
        "/api/garment/number",
        &json!({"name": DRESS, "on": 4, "id": "sleeve.cap-ease", "written": "300 mm"}),
    );
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(refused["problem"]["code"], "out-of-bounds");

    let parts = bench.get(&format!("/api/parts?name={DRESS}"));
    for layer in ["shell", "lining", "facing", "interfacing", "pocket"] {
        assert!(
            !find(&parts["layers"], "id", layer)["pieces"]
                .as_array()
                .expect("names")
                .is_empty()
        );
    }
    let side = find(&parts["walks"], "seam", "side");
    assert_eq!(side["agrees"], true);
    assert!(
        side["path_a"]
            .as_array()
            .is_some_and(|path| path.len() > 10)
    );
    let print = bench.get(&format!("/api/print?name={DRESS}&paper=a4"));
    assert!(print["sheets"].as_u64().is_some_and(|sheets| sheets > 10));
    let page = bench.bytes(&format!("/api/print/page?name={DRESS}&paper=a4&page=2"));
    assert!(page.starts_with(b"<?xml"));
}

#[test]
fn what_is_dragged_follows_and_is_stored_once() {
    let bench = Bench::demo();
    let last = || bench.get("/api/last")["last"].as_u64().expect("a number");
    let before = last();
    let dress = bench.get(&format!("/api/garment?name={DRESS}"));
    let handle = find(&dress["handles"], "id", "neckline.depth");
    let at = |handle: &Value, axis: &str| -> [f64; 2] {
        [0, 1].map(|place| handle[axis][place].as_f64().expect("a number"))
    };
    let ([x, y], [dx, dy]) = (at(handle, "at"), at(handle, "along"));
    let known: Value = dress["drawing"]["pieces"]
        .as_array()
        .expect("pieces")
        .iter()
        .map(|piece| {
            (
                piece["name"].as_str().expect("a name").to_owned(),
                piece["hash"].clone(),
            )
        })
        .collect::<serde_json::Map<_, _>>()
        .into();
    let drag = json!({
        "name": DRESS, "on": 1, "handle": "neckline.depth",
        "to": [x + 10.0 * dx, y + 10.0 * dy], "known": known
    });
    let dragged = bench.post("/api/garment/drag", &drag);
    assert_eq!(dragged["number"]["shown"], "105 mm");
    // Only what changed is sent; the pieces lie where they lay.
    let pieces = &dragged["drawing"]["pieces"];
    assert_eq!(find(pieces, "name", "sleeve")["same"], true);
    assert!(find(pieces, "name", "front")["shapes"].is_array());
    assert_eq!(dragged["drawing"]["box"], dress["drawing"]["box"]);
    let moved = find(&dragged["handles"], "id", "neckline.depth");
    let [now_x, now_y] = at(moved, "at");
    let moved = geometry::Vec2::new(now_x - x, now_y - y).hypot();
    assert!((moved - 10.0).abs() < 0.1);
    assert_eq!(last(), before, "nothing is stored while it is dragged");
    let kept = bench.post("/api/garment/drag-end", &drag);
    assert_eq!(kept["revision"], 2);
    assert_eq!(number(&kept, "neckline.depth")["shown"], "105 mm");
    assert_eq!(last(), before + 1);
}

#[test]
fn every_handle_moves_with_its_own_number() {
    for name in [DRESS, "linen-dress.kdl", "plain-skirt.kdl"] {
        let bench = Bench::demo();
        let garment = bench.get(&format!("/api/garment?name={name}"));
        let handles = garment["handles"].as_array().expect("handles");
        assert!(handles.len() >= 4, "{name} has {} handles", handles.len());
        for handle in handles {
            let place = |axis: &str, at: usize| handle[axis][at].as_f64().expect("a number");
            let to = [0, 1].map(|at| place("at", at) + 6.0 * place("along", at));
            let drag = json!({"name": name, "on": 1, "handle": handle["id"], "to": to});
            let (status, dragged) = bench.try_post("/api/garment/drag", &drag);
            if status == StatusCode::OK {
                let before = handle["shown"].as_str();
                let moved = find(
                    &dragged["handles"],
                    "id",
                    handle["id"].as_str().expect("an id"),
                );
                let now = [0, 1].map(|at| moved["at"][at].as_f64().expect("a number"));
                let far = (now[0] - place("at", 0)) * place("along", 0)
                    + (now[1] - place("at", 1)) * place("along", 1);
                assert!(
                    far > 0.0 || dragged["number"]["shown"].as_str() == before,
                    "{handle} went {far} mm"
                );
            }
        }
    }
}

#[test]
fn the_way_back_goes_across_restarts() {
    let bench = Bench::demo();
    let set = |bench: &Bench, on: u32, written: &str| {
        let set = json!({"name": DRESS, "on": on, "id": "neckline.depth", "written": written});
        bench.post("/api/garment/number", &set)
    };
    set(&bench, 1, "80 mm");
    set(&bench, 2, "70 mm");
    let Bench { folder, .. } = bench;
    let bench = Bench::in_folder(folder);
    let undone = bench.post("/api/undo", &json!({"name": DRESS}));
    assert_eq!(number(&undone, "neckline.depth")["shown"], "80 mm");
    assert_eq!(undone["can_redo"], "Redo: Neck depth 70 mm");
    let undone = bench.post("/api/undo", &json!({"name": DRESS}));
    assert_eq!(number(&undone, "neckline.depth")["shown"], "95 mm");
    assert_eq!(undone["can_undo"], Value::Null);
    let redone = bench.post("/api/redo", &json!({"name": DRESS}));
    assert_eq!(number(&redone, "neckline.depth")["shown"], "80 mm");
    let redone = bench.post("/api/redo", &json!({"name": DRESS}));
    assert_eq!(redone["can_redo"], Value::Null);
    let (status, _) = bench.try_post("/api/redo", &json!({"name": DRESS}));
    assert_eq!(status, StatusCode::CONFLICT);
    let back = bench.post("/api/history/go-back", &json!({"name": DRESS, "to": 1}));
    assert_eq!(number(&back, "neckline.depth")["shown"], "95 mm");
    let history = bench.get(&format!("/api/history?name={DRESS}"));
    assert_eq!(history["revisions"].as_array().map(Vec::len), Some(8));
    let over = bench.get(&format!("/api/history/overlay?name={DRESS}&a=1&b=3"));
    let front = find(&over["drawing"]["pieces"], "name", "front");
    assert_eq!(front["shapes"][0]["kind"], "ghost");
    assert!(over["rows"].as_array().is_some_and(|rows| !rows.is_empty()));
}

#[test]
fn two_windows_do_not_lose_edits() {
    let bench = Bench::demo();
    let set = |on: u32, written: &str| json!({"name": DRESS, "on": on, "id": "neckline.depth", "written": written});
    bench.post("/api/garment/number", &set(1, "80 mm"));
    let (status, stale) = bench.try_post("/api/garment/number", &set(1, "70 mm"));
    assert_eq!(status, StatusCode::CONFLICT);
    assert_eq!(stale["problem"]["code"], "stale");
    assert_eq!(stale["newest"], 2);
    let signs: Vec<&str> = stale["difference"]
        .as_array()
        .expect("lines")
        .iter()
        .filter_map(|line| line["sign"].as_str())
        .collect();
    assert_eq!(signs, [" ", "-", "+", " "]);
    let text = json!({"name": DRESS, "on": 1, "text": "garment \"x\" {}", "reason": ""});
    let (status, _) = bench.try_post("/api/text", &text);
    assert_eq!(status, StatusCode::CONFLICT);
    let since = bench.get(&format!("/api/difference?name={DRESS}&from=1"));
    assert_eq!(since["newest"], 2);
}

#[test]
fn texts_that_cannot_be_read_are_not_stored() {
    let bench = Bench::demo();
    for (name, text) in [
        (DRESS, "garment \"x\" {"),
        (DRESS, ""),
        ("bodies/cellist.kdl", "body \"x\" { waist 29 }"),
    ] {
        let sent = json!({"name": name, "on": 1, "text": text, "reason": "x"});
        let (status, refused) = bench.try_post("/api/text", &sent);
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{text}");
        assert!(
            refused["findings"]
                .as_array()
                .is_some_and(|found| !found.is_empty())
        );
    }
    let text = bench.get(&format!("/api/text?name={DRESS}"));
    assert_eq!(text["revision"], 1);
    assert_eq!(
        text["text"],
        include_str!("../../../examples/concert-dress.kdl")
    );
}

#[test]
fn a_cure_shows_its_lines_and_is_written_on_one_press() {
    let bench = Bench::demo();
    let set = json!({"name": DRESS, "on": 1, "id": "sleeve.cap-ease", "written": "70 mm"});
    let dress = bench.post("/api/garment/number", &set);
    let finding = find(&dress["findings"], "code", "cap-ease-large");
    let cure = &finding["mends"][0];
    assert!(
        cure["lines"]
            .as_array()
            .is_some_and(|lines| lines.iter().any(|line| line["sign"] == "+"))
    );
    let mend = json!({"name": DRESS, "on": 2, "finding": finding["id"], "number": cure["number"], "code": finding["code"]});
    let mended = bench.post("/api/garment/mend", &mend);
    assert_eq!(mended["revision"], 3);
    let left = mended["findings"].as_array().expect("findings");
    assert!(
        left.iter()
            .all(|finding| finding["code"] != "cap-ease-large")
    );
}

#[test]
fn papers_are_those_of_the_command() {
    use making::draft::{Wanted, draft};
    use making::papers::papers;

    struct Examples;
    impl making::Shelf for Examples {
        fn text(
            &mut self,
            name: &str,
            _: &str,
        ) -> Result<std::sync::Arc<document::Source>, document::Finding> {
            let path = format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"));
            let text = std::fs::read_to_string(path).expect("the example is there");
            Ok(document::Source::new(name, text))
        }
    }
    let wanted = Wanted {
        garment: "plain-skirt.kdl",
        body: None,
        even_so: false,
    };
    let drafted = draft(&mut Examples, &wanted).unwrap_or_else(|findings| panic!("{findings:?}"));
    let size = sheet::PaperSize::by_name("letter").expect("it is a paper");
    let made = papers(&drafted, &[size], &()).unwrap_or_else(|findings| panic!("{findings:?}"));
    let bench = Bench::demo();
    let print = bench.get("/api/print?name=plain-skirt.kdl&paper=letter");
    assert_eq!(
        print["files"].as_array().map(Vec::len),
        Some(made.files.len())
    );
    for (name, bytes) in &made.files {
        let address = format!("/api/print/file?name=plain-skirt.kdl&paper=letter&file={name}");
        assert!(bench.bytes(&address) == *bytes, "{name} differs");
    }
}

#[test]
fn a_garment_is_begun_on_a_block() {
    let bench = Bench::demo();
    let wish = json!({"title": "Evening dress", "body": "bodies/cellist.kdl", "from": DRESS, "kind": "dress"});
    let begun = bench.post("/api/book/garment", &wish);
    assert_eq!(begun["begun"], "evening-dress.kdl");
    let dress = bench.get("/api/garment?name=evening-dress.kdl");
    assert_eq!(dress["on"]["base"]["name"], DRESS);
    // A number that stands in the base is written here and never there.
    let set =
        json!({"name": "evening-dress.kdl", "on": 1, "id": "neckline.depth", "written": "60 mm"});
    let dress = bench.post("/api/garment/number", &set);
    assert_eq!(number(&dress, "neckline.depth")["shown"], "60 mm");
    let base = bench.get(&format!("/api/garment?name={DRESS}"));
    assert_eq!(number(&base, "neckline.depth")["shown"], "95 mm");
    for kind in ["block", "skirt", "dress"] {
        let wish = json!({"title": kind, "body": "bodies/cellist.kdl", "kind": kind});
        let begun = bench.post("/api/book/garment", &wish)["begun"].clone();
        let garment = bench.get(&format!(
            "/api/garment?name={}",
            begun.as_str().expect("a name")
        ));
        assert!(
            garment["drawing"]["pieces"].is_array(),
            "{kind}: {}",
            garment["findings"]
        );
    }
}

/// Waits until a search is done; what it says at the end.
fn searched(bench: &Bench, sent: &Value) -> Value {
    let job = bench.post("/api/lay/start", sent)["job"].clone();
    let mut since = 0;
    loop {
        let now = bench.get(&format!("/api/lay/now?job={job}&since={since}"));
        if now["state"] != "running" {
            return now;
        }
        since = now["step"].as_u64().expect("steps are counted");
    }
}

#[test]
fn the_dress_is_laid_and_a_piece_is_held() {
    let bench = Bench::demo();
    let layers = bench.get(&format!("/api/lay?name={DRESS}"));
    let shell = find(&layers["layers"], "layer", "shell");
    assert_eq!(shell["cloth"]["width_shown"], "154 cm");
    let start = json!({"name": DRESS, "layer": "shell", "way": "open", "seconds": 1.0, "seed": 1});
    let done = searched(&bench, &start);
    assert_eq!(done["state"], "done", "{}", done["problem"]);
    let lay = &done["lays"][0];
    assert!(
        lay["buy_shown"]
            .as_str()
            .is_some_and(|words| words.contains(" m of 154 cm"))
    );
    let pieces = lay["drawing"]["pieces"].as_array().expect("copies");
    let sleeves = pieces.iter().filter(|piece| piece["piece"] == "sleeve");
    assert_eq!(sleeves.count(), 2);

    // The first sleeve is held where it lies; the others make room.
    let sleeve = find(&lay["drawing"]["pieces"], "id", "sleeve#0");
    let held = json!([{"piece": "sleeve", "copy": 0, "x": sleeve["at"][0], "y": sleeve["at"][1], "turn": sleeve["turn"]}]);
    let start =
        json!({"name": DRESS, "layer": "shell", "way": "open", "seconds": 1.0, "held": held});
    let again = searched(&bench, &start);
    assert_eq!(again["state"], "done", "{}", again["problem"]);
    let there = find(&again["lays"][0]["drawing"]["pieces"], "id", "sleeve#0");
    assert_eq!(there["held"], true);
    for axis in [0, 1] {
        let moved = there["at"][axis].as_f64().expect("a number")
            - sleeve["at"][axis].as_f64().expect("a number");
        assert!(moved.abs() < 0.1, "the held sleeve moved by {moved} mm");
    }
    // It is remembered, and a long search can be stopped.
    let layers = bench.get(&format!("/api/lay?name={DRESS}"));
    assert!(
        !find(&layers["layers"], "layer", "shell")["lays"]
            .as_array()
            .expect("lays")
            .is_empty()
    );
    let start = json!({"name": DRESS, "layer": "shell", "seconds": 300.0});
    let job = bench.post("/api/lay/start", &start)["job"].clone();
    let stopped = bench.post("/api/lay/stop", &json!({"job": job}));
    assert_eq!(stopped["state"], "stopped");
    // What would save cloth takes long; it says what it tries, and stops when it is told to.
    assert_eq!(layers["answers"], true);
    let asked = json!({"name": DRESS, "layer": "shell"});
    let job = bench.post("/api/lay/answers", &asked)["job"].clone();
    let now = bench.get(&format!("/api/lay/now?job={job}&since=0"));
    assert!(now["words"].as_str().is_some_and(|words| !words.is_empty()));
    let stopped = bench.post("/api/lay/stop", &json!({"job": job}));
    assert_ne!(stopped["state"], "done");
}
