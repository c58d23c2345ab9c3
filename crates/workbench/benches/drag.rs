//! How long the server takes for a drag of the demo dress, and for a whole look at it.
//!
//! Run with `cargo bench -p workbench --bench drag`; a frame of the page is 16 ms.

use axum::Router;
use axum::body::Body;
use axum::http::Request;
use http_body_util::BodyExt as _;
use serde_json::{Value, json};
use tower::ServiceExt as _;
use workbench::{KEY_HEADER, Options, Workbench};

fn main() {
    divan::main();
}

struct Page {
    runtime: tokio::runtime::Runtime,
    router: Router,
    head: [String; 2],
    _folder: tempfile::TempDir,
    _workbench: Workbench,
}

impl Page {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("there is room");
        let options = Options {
            book: folder.path().join("book.notchbook"),
            port: 0,
        };
        let workbench = Workbench::open(&options).expect("a book is begun");
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .expect("a runtime is built");
        let page = Self {
            router: workbench.router(),
            head: [
                format!("127.0.0.1:{}", workbench.port()),
                workbench.key().to_owned(),
            ],
            runtime,
            _folder: folder,
            _workbench: workbench,
        };
        page.ask(
            "POST",
            "/api/book/begin",
            json!({"how": "demo"}).to_string(),
        );
        page
    }

    fn ask(&self, method: &str, address: &str, body: String) -> Vec<u8> {
        let request = Request::builder()
            .method(method)
            .uri(address)
            .header("host", &self.head[0])
            .header(KEY_HEADER, &self.head[1])
            .body(Body::from(body))
            .expect("the request is sound");
        self.runtime.block_on(async {
            let answer = self
                .router
                .clone()
                .oneshot(request)
                .await
                .expect("it is answered");
            answer
                .into_body()
                .collect()
                .await
                .expect("it is whole")
                .to_bytes()
                .to_vec()
        })
    }
}

/// The look at the dress, and a drag of one of its handles.
fn drag(page: &Page, handle: &str) -> impl Fn(f64) -> String {
    let dress = page.ask("GET", "/api/garment?name=concert-dress.kdl", String::new());
    let dress: Value = serde_json::from_slice(&dress).expect("it is JSON");
    let handles = dress["handles"].as_array().expect("handles").clone();
    let held = handles
        .into_iter()
        .find(|one| one["id"] == handle)
        .expect("the handle is there");
    let known: serde_json::Map<String, Value> = dress["drawing"]["pieces"]
        .as_array()
        .expect("pieces")
        .iter()
        .map(|piece| {
            (
                piece["name"].as_str().expect("a name").to_owned(),
                piece["hash"].clone(),
            )
        })
        .collect();
    let handle = handle.to_owned();
    move |by: f64| {
        let place = |field: &str, at: usize| held[field][at].as_f64().expect("a number");
        let to = [0, 1].map(|at| place("at", at) + by * place("along", at));
        json!({"name": "concert-dress.kdl", "on": 1, "handle": handle, "to": to, "known": known})
            .to_string()
    }
}

#[divan::bench(args = ["neckline.depth", "skirt.length", "ease.bust"])]
fn a_drag(bencher: divan::Bencher<'_, '_>, handle: &str) {
    let page = Page::new();
    let drag = drag(&page, handle);
    let mut by = 0.0;
    bencher.bench_local(|| {
        by = if by > 20.0 { 1.0 } else { by + 1.0 };
        page.ask("POST", "/api/garment/drag", drag(by))
    });
}

#[divan::bench]
fn a_look(bencher: divan::Bencher<'_, '_>) {
    let page = Page::new();
    bencher.bench_local(|| page.ask("GET", "/api/garment?name=concert-dress.kdl", String::new()));
}

#[divan::bench]
fn parts(bencher: divan::Bencher<'_, '_>) {
    let page = Page::new();
    bencher.bench_local(|| page.ask("GET", "/api/parts?name=concert-dress.kdl", String::new()));
}
