//! Writes the completion of body files as JSON, for programs that compute it again by other means.
//!
//! `cargo run -p body --example dump_completion examples/bodies/cellist.kdl`

use std::io::Write;
use std::process::ExitCode;
use std::{env, fs, io};

use body::{Measure, Tape, complete, figures};
use document::Source;
use serde_json::{Value, json};

fn main() -> ExitCode {
    match env::args().skip(1).map(|path| dumped(&path)).collect() {
        Ok(bodies) => written(&json!({ "figures": the_figures(), "bodies": Value::Array(bodies) })),
        Err(message) => {
            let _ = writeln!(io::stderr(), "{message}");
            ExitCode::FAILURE
        }
    }
}

fn written(dump: &Value) -> ExitCode {
    match writeln!(io::stdout(), "{dump:#}") {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => ExitCode::FAILURE,
    }
}

fn dumped(path: &str) -> Result<Value, String> {
    let bytes = fs::read(path).map_err(|fault| format!("{path}: {fault}"))?;
    let source = Source::from_bytes(path, bytes).map_err(|finding| finding.message)?;
    let tape = body::read(&source).map_err(|findings| findings[0].message.clone())?;
    Ok(the_body(&tape))
}

fn the_body(tape: &Tape) -> Value {
    let body = complete(tape);
    let known: Vec<Value> = tape
        .measured()
        .map(|m| json!({ "key": m.key(), "value": tape.mean(m), "error": tape.reading_error(m) }))
        .collect();
    let values: Vec<Value> = Measure::ALL
        .into_iter()
        .map(|m| {
            json!({ "key": m.key(), "value": body.mm(m), "sd": body.sd(m), "measured": body.is_measured(m) })
        })
        .collect();
    json!({ "name": tape.name(), "known": known, "values": values })
}

fn the_figures() -> Value {
    let all = Measure::ALL;
    json!({
        "keys": all.map(Measure::key).to_vec(),
        "mean": all.map(figures::mean).to_vec(),
        "deviation": all.map(figures::deviation).to_vec(),
        "correlation": all.map(|a| all.map(|b| figures::correlation(a, b)).to_vec()).to_vec(),
    })
}
