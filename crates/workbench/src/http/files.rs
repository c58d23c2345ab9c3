//! The page's own files: HTML, styles, scripts, fonts.
//!
//! A release carries them inside of itself; a debug build reads the folder `page`, so that a change is seen at once. No path
//! of a request reaches a disk in a release: names are keys of what is inside.

use axum::body::Body;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, ETAG, IF_NONE_MATCH};
use axum::http::{HeaderMap, StatusCode, Uri};
use axum::response::{IntoResponse as _, Response};
use rust_embed::RustEmbed;

use super::answer::Problem;

#[derive(RustEmbed)]
#[folder = "page/"]
struct Files;

/// The file of an address; `/` is the page itself.
pub(crate) async fn file(uri: Uri, headers: HeaderMap) -> Response {
    let name = match uri.path().trim_start_matches('/') {
        "" => "index.html",
        name => name,
    };
    let hidden = name
        .split('/')
        .any(|part| part.starts_with('.') || part.is_empty());
    let Some(file) = Files::get(name).filter(|_| !hidden) else {
        return Problem::missing("file-missing", "There is no such page.").into_response();
    };
    let tag = format!("\"{}\"", hex(&file.metadata.sha256_hash()[..16]));
    let known = headers
        .get(IF_NONE_MATCH)
        .is_some_and(|known| known.as_bytes() == tag.as_bytes());
    let status = if known {
        StatusCode::NOT_MODIFIED
    } else {
        StatusCode::OK
    };
    let body = if known {
        Body::empty()
    } else {
        Body::from(file.data)
    };
    let headers = [
        (CONTENT_TYPE, content_type(name).to_owned()),
        (ETAG, tag),
        (CACHE_CONTROL, "no-cache".to_owned()),
    ];
    (status, headers, body).into_response()
}

/// Bytes as figures and letters, two each.
pub(crate) fn hex(bytes: &[u8]) -> String {
    let digits = bytes.iter().flat_map(|byte| [byte >> 4, byte & 15]);
    digits
        .filter_map(|digit| char::from_digit(u32::from(digit), 16))
        .collect()
}

/// What the browser is told that a file is; only what the page is made of.
fn content_type(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "woff2" => "font/woff2",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
