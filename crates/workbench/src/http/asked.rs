//! What a request asks for, read into types; a slip is a problem in words, never a bare line of text.

use axum::body::Bytes;
use axum::extract::{FromRequest, FromRequestParts, Request};
use axum::http::StatusCode;
use axum::http::request::Parts;
use serde::de::DeserializeOwned;

use super::answer::Problem;

/// What stands behind the question mark of an address.
pub(crate) struct Asked<T>(pub(crate) T);

impl<T, S> FromRequestParts<S> for Asked<T>
where
    T: DeserializeOwned,
    S: Send + Sync,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Problem> {
        axum::extract::Query::<T>::try_from_uri(&parts.uri)
            .map(|query| Self(query.0))
            .map_err(|fault| unreadable(&fault.to_string()))
    }
}

/// The JSON that was sent.
pub(crate) struct Sent<T>(pub(crate) T);

impl<T, S> FromRequest<S> for Sent<T>
where
    T: DeserializeOwned,
    S: Send + Sync,
{
    type Rejection = Problem;

    async fn from_request(request: Request, state: &S) -> Result<Self, Problem> {
        let bytes = Bytes::from_request(request, state).await.map_err(|_| {
            Problem::new(
                StatusCode::PAYLOAD_TOO_LARGE,
                "too-large",
                "More was sent than is ever needed; at most 1 MiB is taken.",
            )
            .next("Send less at once.")
        })?;
        serde_json::from_slice(&bytes)
            .map(Self)
            .map_err(|fault| unreadable(&fault.to_string()))
    }
}

fn unreadable(why: &str) -> Problem {
    Problem::new(
        StatusCode::BAD_REQUEST,
        "request-not-readable",
        format!("What was asked for cannot be read: {why}."),
    )
    .next("Load the page anew; it may be older than the program.")
}
