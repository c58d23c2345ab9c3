//! `compare`: two garments laid over each other, and what moved by how much.

use std::path::{Path, PathBuf};

use drawing::compare;

use crate::arguments::{CompareArguments, Given};
use crate::draft::draft;
use crate::{Exit, Look, Said, files};
use making::difference::{Look as Seen, difference};
use making::draft::Draft;
use making::papers::title;
use making::words::{WIDTH, table, wrapped};

use super::steps::both;

/// Runs the command.
pub(crate) fn run(arguments: &CompareArguments, look: Look) -> Said {
    let of = |garment: &Path| Given {
        garment: garment.to_owned(),
        body: arguments.body.clone(),
        even_so: arguments.even_so,
    };
    let (one, other) = match (draft(&of(&arguments.one)), draft(&of(&arguments.other))) {
        (Ok(one), Ok(other)) => (one, other),
        (one, other) => {
            let mut findings = one.err().unwrap_or_default();
            findings.extend(other.err().unwrap_or_default());
            return Said::stopped(&findings, look);
        }
    };
    let folder = folder(arguments);
    let names = [title(&one), title(&other)];
    let heading = format!("{} and {}", one.recipe.name, other.recipe.name);
    let drawn = compare(
        &one.garment.pattern,
        &other.garment.pattern,
        [
            &format!("first: {}", names[0]),
            &format!("second: {}", names[1]),
        ],
        &heading,
    );
    let written = both("compared", &drawn)
        .and_then(|files| files::write_all(&folder, &files).map_err(|fault| vec![fault]));
    match written {
        Ok(()) => Said::out(summary(&one, &other, &names, &folder), exit(&one, &other)),
        Err(findings) => Said::stopped(&findings, look),
    }
}

fn exit(one: &Draft, other: &Draft) -> Exit {
    match (Exit::of(&one.findings), Exit::of(&other.findings)) {
        (Exit::Clean, Exit::Clean) => Exit::Clean,
        _ => Exit::Errors,
    }
}

fn folder(arguments: &CompareArguments) -> PathBuf {
    arguments.out.clone().unwrap_or_else(|| {
        let stem = |path: &Path| {
            path.file_stem()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned()
        };
        PathBuf::from(format!(
            "{}-beside-{}",
            stem(&arguments.one),
            stem(&arguments.other)
        ))
    })
}

fn summary(one: &Draft, other: &Draft, names: &[String; 2], folder: &Path) -> String {
    let found = difference(&one.garment.pattern, &other.garment.pattern, Seen::Overlaid);
    let said: String = found
        .said
        .iter()
        .map(|said| {
            wrapped(
                &format!("{}{}.", said[..1].to_uppercase(), &said[1..]),
                WIDTH,
            ) + "\n"
        })
        .collect();
    let table = if found.is_nothing() {
        "Nothing moved: the two patterns are the same.\n".to_owned()
    } else {
        let heading = ["", "first", "second", "by", ""]
            .map(str::to_owned)
            .to_vec();
        let rows: Vec<Vec<String>> = std::iter::once(heading).chain(found.rows).collect();
        table(&rows, &[false, true, true, true, false])
    };
    format!(
        "first   {}\nsecond  {}\n\n{said}{table}\nWritten to {}: compared.svg and compared.png, the first grey, the second black.\n",
        names[0],
        names[1],
        folder.display()
    )
}
