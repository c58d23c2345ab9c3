//! A workbench without a socket: requests are handed to what answers them.
#![allow(dead_code, reason = "each test uses a part of it")]

use axum::Router;
use axum::body::Body;
use axum::http::{Request, StatusCode};
use http_body_util::BodyExt as _;
use serde_json::{Value, json};
use tower::ServiceExt as _;
use workbench::{KEY_HEADER, Options, Workbench};

pub(crate) struct Bench {
    pub(crate) router: Router,
    pub(crate) port: u16,
    pub(crate) key: String,
    pub(crate) runtime: tokio::runtime::Runtime,
    pub(crate) folder: tempfile::TempDir,
    // The port stays taken as long as the workbench is there.
    _workbench: Workbench,
}

impl Bench {
    /// A workbench with a new book.
    pub(crate) fn new() -> Self {
        Self::in_folder(tempfile::tempdir().expect("there is room for a folder"))
    }

    /// The book of a folder, opened anew.
    pub(crate) fn in_folder(folder: tempfile::TempDir) -> Self {
        let options = Options {
            book: folder.path().join("book.notchbook"),
            port: 0,
        };
        let workbench = Workbench::open(&options).expect("a new book is begun");
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .expect("a runtime is built");
        Self {
            router: workbench.router(),
            port: workbench.port(),
            key: workbench.key().to_owned(),
            runtime,
            folder,
            _workbench: workbench,
        }
    }

    /// With the demo in it.
    pub(crate) fn demo() -> Self {
        let bench = Self::new();
        bench.post("/api/book/begin", &json!({"how": "demo"}));
        bench
    }

    pub(crate) fn request(&self, method: &str, address: &str) -> axum::http::request::Builder {
        Request::builder()
            .method(method)
            .uri(address)
            .header("host", format!("127.0.0.1:{}", self.port))
            .header(KEY_HEADER, &self.key)
    }

    /// Any request; status, headers and bytes of the answer.
    pub(crate) fn send(
        &self,
        request: Request<Body>,
    ) -> (StatusCode, axum::http::HeaderMap, Vec<u8>) {
        self.runtime.block_on(async {
            let answer = self.router.clone().oneshot(request).await;
            let answer = answer.expect("whatever is asked is answered");
            let (head, body) = answer.into_parts();
            let bytes = body
                .collect()
                .await
                .expect("the answer is whole")
                .to_bytes();
            (head.status, head.headers, bytes.to_vec())
        })
    }

    pub(crate) fn try_get(&self, address: &str) -> (StatusCode, Value) {
        let request = self.request("GET", address).body(Body::empty());
        let (status, _, bytes) = self.send(request.expect("the request is sound"));
        (status, serde_json::from_slice(&bytes).unwrap_or_default())
    }

    pub(crate) fn get(&self, address: &str) -> Value {
        let (status, answer) = self.try_get(address);
        assert_eq!(status, StatusCode::OK, "{address}: {answer}");
        answer
    }

    pub(crate) fn bytes(&self, address: &str) -> Vec<u8> {
        let request = self.request("GET", address).body(Body::empty());
        let (status, _, bytes) = self.send(request.expect("the request is sound"));
        assert_eq!(status, StatusCode::OK, "{address}");
        bytes
    }

    pub(crate) fn try_post(&self, address: &str, sent: &Value) -> (StatusCode, Value) {
        let request = self
            .request("POST", address)
            .header("content-type", "application/json")
            .body(Body::from(sent.to_string()));
        let (status, _, bytes) = self.send(request.expect("the request is sound"));
        (status, serde_json::from_slice(&bytes).unwrap_or_default())
    }

    pub(crate) fn post(&self, address: &str, sent: &Value) -> Value {
        let (status, answer) = self.try_post(address, sent);
        assert_eq!(status, StatusCode::OK, "{address} {sent}: {answer}");
        answer
    }
}

/// The member of a list whose field is that.
pub(crate) fn find<'a>(list: &'a Value, field: &str, value: &str) -> &'a Value {
    let found = list
        .as_array()
        .and_then(|list| list.iter().find(|one| one[field] == value));
    found.unwrap_or_else(|| panic!("nothing with {field} {value} in {list}"))
}
