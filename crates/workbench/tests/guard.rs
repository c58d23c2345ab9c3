//! Who may ask: only the workbench's own page, with the key of this start.

mod common;

use axum::body::Body;
use axum::http::{Request, StatusCode};
use common::Bench;
use workbench::KEY_HEADER;

fn status(bench: &Bench, request: Request<Body>) -> StatusCode {
    bench.send(request).0
}

fn asked(bench: &Bench, address: &str, headers: &[(&str, String)]) -> Request<Body> {
    let mut request = Request::builder().uri(address);
    for (name, value) in headers {
        request = request.header(*name, value);
    }
    let _ = bench;
    request.body(Body::empty()).expect("the request is sound")
}

#[test]
fn another_name_for_this_machine_is_refused() {
    // A page of another site can have its own name point at 127.0.0.1; the browser then sends that name as Host
    // (RFC 9110, section 7.2).
    let bench = Bench::demo();
    let (port, key) = (bench.port, bench.key.clone());
    for (host, wanted) in [
        (format!("127.0.0.1:{port}"), StatusCode::OK),
        (format!("localhost:{port}"), StatusCode::OK),
        (format!("[::1]:{port}"), StatusCode::OK),
        (format!("LOCALHOST:{port}"), StatusCode::OK),
        ("127.0.0.1".to_owned(), StatusCode::FORBIDDEN),
        (format!("127.0.0.1:{}", port ^ 1), StatusCode::FORBIDDEN),
        (format!("sewing.example:{port}"), StatusCode::FORBIDDEN),
        (format!("127.0.0.1.example:{port}"), StatusCode::FORBIDDEN),
        (format!("127.0.0.1:{port}.example"), StatusCode::FORBIDDEN),
        (format!("user@127.0.0.1:{port}"), StatusCode::FORBIDDEN),
        (String::new(), StatusCode::FORBIDDEN),
    ] {
        let headers = [("host", host.clone()), (KEY_HEADER, key.clone())];
        let found = status(&bench, asked(&bench, "/api/book", &headers));
        assert_eq!(found, wanted, "{host}");
        let found = status(&bench, asked(&bench, "/nothing.css", &headers));
        let wanted = if wanted == StatusCode::OK {
            StatusCode::NOT_FOUND
        } else {
            wanted
        };
        assert_eq!(found, wanted, "{host} for a file");
    }
    let nobody = asked(&bench, "/api/book", &[(KEY_HEADER, key)]);
    assert_eq!(status(&bench, nobody), StatusCode::FORBIDDEN);
}

#[test]
fn pages_of_other_sites_are_refused() {
    let bench = Bench::demo();
    let own = |name: &str| format!("http://{name}:{}", bench.port);
    for (header, value, wanted) in [
        ("origin", own("127.0.0.1"), StatusCode::OK),
        ("origin", own("localhost"), StatusCode::OK),
        (
            "origin",
            "http://sewing.example".to_owned(),
            StatusCode::FORBIDDEN,
        ),
        ("origin", "null".to_owned(), StatusCode::FORBIDDEN),
        (
            "origin",
            format!("https://127.0.0.1:{}", bench.port),
            StatusCode::FORBIDDEN,
        ),
        (
            "origin",
            format!("http://127.0.0.1:{}", bench.port ^ 1),
            StatusCode::FORBIDDEN,
        ),
        ("sec-fetch-site", "same-origin".to_owned(), StatusCode::OK),
        (
            "sec-fetch-site",
            "same-site".to_owned(),
            StatusCode::FORBIDDEN,
        ),
        (
            "sec-fetch-site",
            "cross-site".to_owned(),
            StatusCode::FORBIDDEN,
        ),
        ("sec-fetch-site", "none".to_owned(), StatusCode::FORBIDDEN),
    ] {
        let request = bench
            .request("POST", "/api/undo")
            .header(header, &value)
            .body(Body::from("{\"name\":\"concert-dress.kdl\"}"));
        let found = status(&bench, request.expect("the request is sound"));
        // What is let through has nothing to undo.
        let wanted = if wanted == StatusCode::OK {
            StatusCode::CONFLICT
        } else {
            wanted
        };
        assert_eq!(found, wanted, "{header}: {value}");
    }
    let navigation = |site: &str| {
        let request = bench
            .request("GET", "/nothing.css")
            .header("sec-fetch-site", site);
        status(
            &bench,
            request.body(Body::empty()).expect("the request is sound"),
        )
    };
    assert_eq!(navigation("none"), StatusCode::NOT_FOUND);
    assert_eq!(navigation("cross-site"), StatusCode::FORBIDDEN);
}

#[test]
fn without_the_key_nothing_is_told() {
    let bench = Bench::demo();
    let host = ("host", format!("127.0.0.1:{}", bench.port));
    let mut wrong = bench.key.clone();
    let last = if wrong.ends_with('0') { "1" } else { "0" };
    wrong.replace_range(31.., last);
    for key in [
        None,
        Some(String::new()),
        Some(wrong),
        Some(format!("{}0", bench.key)),
    ] {
        let mut headers = vec![host.clone()];
        headers.extend(key.map(|key| (KEY_HEADER, key)));
        let (status, _, bytes) = bench.send(asked(&bench, "/api/book", &headers));
        assert_eq!(status, StatusCode::FORBIDDEN);
        let text = String::from_utf8(bytes).expect("an answer is text");
        assert!(
            text.contains("key-wrong") && !text.contains("concert"),
            "{text}"
        );
    }
}

#[test]
fn every_answer_carries_the_policy() {
    let bench = Bench::demo();
    for address in ["/api/book", "/nothing", "/api/nothing"] {
        let request = bench.request("GET", address).body(Body::empty());
        let (_, headers, _) = bench.send(request.expect("the request is sound"));
        let policy = headers["content-security-policy"]
            .to_str()
            .expect("it is text");
        assert!(policy.contains("default-src 'none'") && policy.contains("frame-ancestors 'none'"));
        assert!(!policy.contains("unsafe"));
        assert_eq!(headers["x-content-type-options"], "nosniff");
        assert_eq!(headers["referrer-policy"], "no-referrer");
        if address.starts_with("/api/") {
            assert_eq!(headers["cache-control"], "no-store");
        }
    }
}

#[test]
fn large_bodies_are_not_taken() {
    let bench = Bench::demo();
    let request = bench
        .request("POST", "/api/text")
        .body(Body::from(vec![b' '; (1 << 20) + 1]));
    let found = status(&bench, request.expect("the request is sound"));
    assert_eq!(found, StatusCode::PAYLOAD_TOO_LARGE);
}

#[test]
fn names_are_never_paths() {
    let bench = Bench::demo();
    for name in [
        "/etc/passwd",
        "../../../etc/passwd",
        "..%2f..%2fetc%2fpasswd",
        "bodies/../concert-dress.kdl",
        "C:\\book",
        "concert-dress.kdl\0",
        "",
        ".",
        "con",
    ] {
        let address = format!("/api/text?name={}", encoded(name));
        let (status, answer) = bench.try_get(&address);
        assert!(status.is_client_error(), "{name}: {status}");
        assert!(answer["problem"]["code"].is_string(), "{name}: {answer}");
    }
    for path in [
        "/../Cargo.toml",
        "/%2e%2e/Cargo.toml",
        "/.gitkeep",
        "//etc/passwd",
    ] {
        let (status, _) = bench.try_get(path);
        assert_eq!(status, StatusCode::NOT_FOUND, "{path}");
    }
}

fn encoded(text: &str) -> String {
    let each: Vec<String> = text.bytes().map(|byte| format!("%{byte:02x}")).collect();
    each.concat()
}
