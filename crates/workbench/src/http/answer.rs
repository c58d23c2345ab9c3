//! Answers: JSON that says what there is, or a problem that says what to do.
//!
//! Invariant: a problem always has a code, a sentence and a next step.

use axum::http::header::CONTENT_TYPE;
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use document::Finding;
use serde::Serialize;
use serde_json::{Value, json};

/// What an answer is made of.
pub(crate) type Answer<T> = Result<T, Problem>;

/// Why something was not done.
#[derive(Clone, Debug)]
pub(crate) struct Problem {
    pub(crate) status: StatusCode,
    pub(crate) code: String,
    pub(crate) message: String,
    pub(crate) next: String,
    /// What stands beside the problem: the findings, or what another window wrote.
    pub(crate) beside: Vec<(&'static str, Value)>,
}

impl Problem {
    pub(crate) fn new(
        status: StatusCode,
        code: impl Into<String>,
        message: impl Into<String>,
    ) -> Self {
        Self {
            status,
            code: code.into(),
            message: message.into(),
            next: String::new(),
            beside: Vec::new(),
        }
    }

    /// What was asked for cannot be.
    pub(crate) fn refused(code: impl Into<String>, message: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, code, message)
            .next("Change what was asked for, and try again.")
    }

    /// What was named is not there.
    pub(crate) fn missing(code: impl Into<String>, message: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, code, message)
            .next("Load the page anew to see what there is.")
    }

    /// The program has made a mistake of its own.
    pub(crate) fn mistake() -> Self {
        Self::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "own-mistake",
            "The program has made a mistake of its own; nothing was stored.",
        )
        .next("Please report it with what you did last. Your book is unchanged; go on, or load the page anew.")
    }

    pub(crate) fn next(mut self, next: impl Into<String>) -> Self {
        self.next = next.into();
        self
    }

    pub(crate) fn with(mut self, name: &'static str, value: Value) -> Self {
        self.beside.push((name, value));
        self
    }
}

impl Problem {
    /// Code, sentence and next step.
    pub(crate) fn value(&self) -> Value {
        json!({ "code": self.code, "message": self.message, "next": self.next })
    }
}

impl From<Finding> for Problem {
    fn from(finding: Finding) -> Self {
        let mut problem = Self::refused(finding.code, finding.message);
        if !finding.cure.is_empty() {
            problem.next = finding.cure;
        }
        problem
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let mut body = json!({ "problem": self.value() });
        if let Some(body) = body.as_object_mut() {
            for (name, value) in self.beside {
                body.insert(name.to_owned(), value);
            }
        }
        (self.status, Json(body)).into_response()
    }
}

/// A value as JSON.
pub(crate) struct Json<T>(pub(crate) T);

impl<T: Serialize> IntoResponse for Json<T> {
    fn into_response(self) -> Response {
        match serde_json::to_vec(&self.0) {
            Ok(bytes) => bytes_of("application/json", bytes),
            Err(_) => Problem::mistake().into_response(),
        }
    }
}

/// Bytes of a type.
pub(crate) fn bytes_of(kind: &'static str, bytes: Vec<u8>) -> Response {
    let kind = HeaderValue::from_static(kind);
    ([(CONTENT_TYPE, kind)], bytes).into_response()
}
