//! `nest`: searches for a short lay of a benchmark instance, to measure the lay engine.

use std::time::{Duration, Instant};

use cloth::instance::{self, Instance};
use cloth::nest::{Budget, Continue, Layout, Placement, Problem, solve};
use cloth::verify::{Violation, tolerance, verify};
use document::Finding;
use pattern::json::text;
use serde_json::{Value, json};

use crate::arguments::NestArguments;
use crate::progress::Progress;
use crate::{Exit, Look, Said, files};
use making::Listener as _;
use making::words::printable;

/// Name of the format of `--json`, with its version.
const FORMAT: &str = "notchbook-nest-1";

/// Runs the command.
pub(crate) fn run(arguments: &NestArguments, look: Look) -> Said {
    match read(arguments) {
        Ok(instance) => {
            let found = search(&instance.problem, arguments, look);
            let exit = if found.wrong.is_empty() {
                Exit::Clean
            } else {
                Exit::Errors
            };
            let out = if arguments.json {
                as_json(&instance, &found, arguments.seed)
            } else {
                in_words(&instance, &found)
            };
            Said::out(out, exit)
        }
        Err(finding) if arguments.json => Said::out(stopped(&finding), Exit::Stopped),
        Err(finding) => Said::stopped(&[finding], look),
    }
}

/// A lay and what it took.
struct Found {
    layout: Layout,
    wrong: Vec<Violation>,
    evaluations: u64,
    seconds: f64,
}

fn read(arguments: &NestArguments) -> Result<Instance, Finding> {
    let source = files::read(&arguments.instance, "a benchmark instance")?;
    instance::read(&source.text).map_err(|unread| {
        let name = printable(&arguments.instance.display().to_string());
        Finding::error(
            "instance-unread",
            format!("{name}: {}", printable(&unread.to_string())),
        )
        .allowed("an instance in the form neutral-strip-packing-1")
        .cure("Correct it there and try again; docs/lay.md describes the form.")
    })
}

fn search(problem: &Problem, arguments: &NestArguments, look: Look) -> Found {
    let began = Instant::now();
    let budget = match arguments.evaluations {
        Some(evaluations) => Budget::evaluations(evaluations),
        None => Budget::until(began + Duration::from_secs_f64(arguments.seconds)),
    };
    let progress = Progress::new(look.progress);
    progress.step("Searching for a short lay");
    let mut evaluations = 0;
    let mut count = |now: cloth::nest::Progress<'_>| {
        evaluations = now.evaluations;
        Continue::Yes
    };
    let layout = solve(problem, &budget, arguments.seed, &mut count, None);
    let wrong = verify(problem, &layout, tolerance(problem))
        .err()
        .unwrap_or_default();
    Found {
        layout,
        wrong,
        evaluations,
        seconds: began.elapsed().as_secs_f64(),
    }
}

fn in_words(instance: &Instance, found: &Found) -> String {
    let problem = &instance.problem;
    let Layout { length, .. } = found.layout;
    let best = instance.best_percent.map_or(String::new(), |best| {
        format!(" The best published has {best:.2} %.")
    });
    let proof = if found.wrong.is_empty() {
        "Proven: no two pieces overlap, all lie on the strip, every turn is allowed.".to_owned()
    } else {
        format!("NOT PROVEN, do not use it: {:?}", found.wrong)
    };
    format!(
        "{}: {} pieces on a strip {} wide\nLength {length:.4}, density {:.2} %.{best}\nNo lay is shorter than {:.4}, the area over the width.\n{proof}\n{} places tried in {:.1} s.\n",
        printable(&instance.name),
        problem.pieces(),
        problem.width(),
        100.0 * problem.density(length),
        problem.least_length(),
        found.evaluations,
        found.seconds,
    )
}

fn as_json(instance: &Instance, found: &Found, seed: u64) -> String {
    let problem = &instance.problem;
    let pose = |placement: &Placement| -> Value {
        let turn = problem.items()[placement.item].turns[placement.turn];
        json!({
            "item": placement.item,
            "degrees": turn.degrees,
            "mirrored": turn.mirrored,
            "x": placement.place.x,
            "y": placement.place.y,
        })
    };
    text(&json!({
        "format": FORMAT,
        "instance": instance.name,
        "width": problem.width(),
        "length": found.layout.length,
        "density_percent": 100.0 * problem.density(found.layout.length),
        "proven": found.wrong.is_empty(),
        "seed": seed,
        "evaluations": found.evaluations,
        "seconds": found.seconds,
        "poses": found.layout.placements.iter().map(pose).collect::<Vec<Value>>(),
    }))
}

fn stopped(finding: &Finding) -> String {
    text(&json!({ "format": FORMAT, "proven": false, "fault": finding.message }))
}
