//! The guard: who may talk to the workbench.
//!
//! A page of another site that is open in the same browser can send requests to any address of this machine, and a name of
//! its own can be made to mean 127.0.0.1. So a request must call this machine by one of its own names (`Host`), must come
//! from a page of this workbench where the browser says from which it comes (`Origin`, `Sec-Fetch-Site`), and must know the
//! key of this start where it asks for anything that is in the book. Sources: RFC 9110, section 7.2 (Host); WHATWG Fetch,
//! section 3.2 (Origin); W3C Fetch Metadata Request Headers, section 2.3; W3C Content Security Policy Level 3.
//!
//! Invariant: every answer, a refusal too, carries the headers of [`HEADERS`].

use axum::extract::{Request, State};
use axum::http::header::{CACHE_CONTROL, HOST, ORIGIN};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, Uri};
use axum::middleware::Next;
use axum::response::{IntoResponse as _, Response};

use super::answer::Problem;

/// The header in which the page sends the key.
pub const KEY_HEADER: &str = "x-notchbook-key";

/// What every answer carries.
const HEADERS: [(&str, &str); 6] = [
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; \
         connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    (
        "permissions-policy",
        "camera=(), microphone=(), geolocation=()",
    ),
];

/// What the guard knows: the port on which it stands, and the key of this start.
#[derive(Clone, Debug)]
pub(crate) struct Guard {
    pub(crate) port: u16,
    pub(crate) key: Key,
}

/// A secret of one start: 32 signs of 128 random bits.
#[derive(Clone)]
pub(crate) struct Key(String);

impl Key {
    /// A new key from the system's own source of chance; `None` where it has none.
    pub(crate) fn new() -> Option<Self> {
        let mut bytes = [0_u8; 16];
        getrandom::fill(&mut bytes).ok()?;
        Some(Self(super::files::hex(&bytes)))
    }

    pub(crate) fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether this is the key; takes as long for a wrong one whose first signs are right as for any other.
    fn is(&self, given: &[u8]) -> bool {
        let own = self.0.as_bytes();
        let mut differs = u8::from(own.len() != given.len());
        for (index, byte) in own.iter().enumerate() {
            let other = given.get(index).copied().unwrap_or_default();
            differs |= std::hint::black_box(byte ^ other);
        }
        differs == 0
    }
}

impl std::fmt::Debug for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Key(…)")
    }
}

/// Lets a request through or refuses it; puts the headers on what comes back.
pub(crate) async fn guard(State(guard): State<Guard>, request: Request, next: Next) -> Response {
    let is_api = request.uri().path().starts_with("/api/");
    let mut response = match guard.refused(&request) {
        None => next.run(request).await,
        Some(why) => why.into_response(),
    };
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        headers.insert(
            HeaderName::from_static(name),
            HeaderValue::from_static(value),
        );
    }
    if is_api {
        headers.insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    response
}

impl Guard {
    /// Why a request is refused, if it is.
    fn refused(&self, request: &Request) -> Option<Problem> {
        let headers = request.headers();
        let is_api = request.uri().path().starts_with("/api/");
        if !self.calls_us(request.uri(), headers) {
            return Some(refusal(
                "host-not-ours",
                "This request calls the workbench by a name that is not its own.",
            ));
        }
        if !self.comes_from_us(headers) {
            return Some(refusal(
                "origin-not-ours",
                "This request comes from a page that is not the workbench's own.",
            ));
        }
        let site = headers
            .get("sec-fetch-site")
            .and_then(|site| site.to_str().ok());
        if !allowed_site(site, request.method(), is_api) {
            return Some(refusal(
                "origin-not-ours",
                "This request comes from a page of another site.",
            ));
        }
        let knows_key = headers
            .get(KEY_HEADER)
            .is_some_and(|key| self.key.is(key.as_bytes()));
        (is_api && !knows_key).then(|| {
            refusal(
                "key-wrong",
                "This request does not carry the key of this start of the workbench.",
            )
        })
    }

    /// Whether the request names this machine by one of its own names, with our port.
    fn calls_us(&self, uri: &Uri, headers: &HeaderMap) -> bool {
        let mut hosts = headers.get_all(HOST).iter();
        let (Some(host), None) = (hosts.next(), hosts.next()) else {
            return false;
        };
        let named = uri
            .authority()
            .is_none_or(|authority| self.is_own(authority.as_str().as_bytes()));
        named && self.is_own(host.as_bytes())
    }

    fn is_own(&self, host: &[u8]) -> bool {
        ["127.0.0.1", "localhost", "[::1]"]
            .iter()
            .any(|name| host.eq_ignore_ascii_case(format!("{name}:{}", self.port).as_bytes()))
    }

    /// Whether the page from which the request comes, where that is said, is ours.
    fn comes_from_us(&self, headers: &HeaderMap) -> bool {
        headers.get_all(ORIGIN).iter().all(|origin| {
            origin
                .as_bytes()
                .strip_prefix(b"http://")
                .is_some_and(|host| self.is_own(host))
        })
    }
}

/// A link from elsewhere may open the page itself; everything else must come from it.
fn allowed_site(site: Option<&str>, method: &Method, is_api: bool) -> bool {
    match site {
        None | Some("same-origin") => true,
        Some("none") => !is_api && method == Method::GET,
        Some(_) => false,
    }
}

fn refusal(code: &'static str, message: &str) -> Problem {
    Problem::new(StatusCode::FORBIDDEN, code, message).next(
        "Open the workbench by the address that “notchbook open” printed; a new start has a new address.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_itself_only() {
        let key = Key::new().expect("the system has chance");
        assert_eq!(key.as_str().len(), 32);
        assert!(key.is(key.as_str().as_bytes()));
        for wrong in [b"".as_slice(), &key.as_str().as_bytes()[..31], &[b'0'; 33]] {
            assert!(!key.is(wrong));
        }
        assert!(!key.is(format!("{}0", key.as_str()).as_bytes()));
        assert_ne!(key.as_str(), Key::new().expect("there is more").as_str());
        assert_eq!(format!("{key:?}"), "Key(…)");
    }
}
