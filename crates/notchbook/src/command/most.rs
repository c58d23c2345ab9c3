//! `most`: says how much of a number the cloth on hand allows.

use cloth::answers::Trials;
use cloth::lay::Wishes;
use document::Finding;

use super::answers::{Choice, asked, goods};
use crate::arguments::MostArguments;
use crate::draft::{draft, draft_text};
use crate::progress::Progress;
use crate::{Exit, Look, Said, files};
use making::Listener as _;
use making::answers::{self, Most};
use making::draft::Draft;
use making::lays::{self, Goods, Laid};
use making::papers::{title, unprinted};

/// Width of a picture, pixels.
const PICTURE_WIDTH: u32 = 2000;

/// Runs the command.
pub(crate) fn run(arguments: &MostArguments, look: Look) -> Said {
    let progress = Progress::new(look.progress);
    progress.step("Drafting");
    let made = draft(&arguments.given).and_then(|draft| {
        progress.step("Trying one value after another");
        let (goods, most) = solved(arguments, &draft)?;
        written(arguments, &most)?;
        Ok((draft, goods, most))
    });
    drop(progress);
    match made {
        Ok((draft, goods, most)) => {
            let exit = if most.found.is_some() {
                Exit::Clean
            } else {
                Exit::Errors
            };
            Said::out(told(arguments, &draft, &goods, &most), exit)
        }
        Err(findings) => Said::stopped(&findings, look),
    }
}

fn wishes(arguments: &MostArguments) -> Wishes {
    Wishes {
        ways: arguments.fold.clone(),
        ..Wishes::default()
    }
}

fn solved(arguments: &MostArguments, draft: &Draft) -> Result<(Goods, Most), Vec<Finding>> {
    let number = answers::number(&draft.recipe, &arguments.number).map_err(|one| vec![one])?;
    let choice = Choice {
        cloth: arguments.cloth.as_ref(),
        layers: &arguments.layer,
        length: arguments.length,
        width: arguments.width,
    };
    let goods = goods(&choice, draft)?.swap_remove(0);
    let trials = Trials {
        evaluations: arguments.evaluations,
        seed: arguments.seed,
        ..Trials::default()
    };
    let wishes = wishes(arguments);
    let about = (&goods, &wishes, &trials);
    let most = asked((&arguments.given, draft), about, |ask, drafter, hear| {
        answers::most(ask, number, (&[], None), drafter, hear).map_err(|one| vec![one])
    })?;
    Ok((goods, most))
}

/// Draws the lay that proves the answer, where a folder is given for it.
fn written(arguments: &MostArguments, most: &Most) -> Result<(), Vec<Finding>> {
    let (Some(folder), Some(found)) = (&arguments.out, &most.found) else {
        return Ok(());
    };
    let draft = draft_text(&arguments.given, &found.text)?;
    let files = drawn(&draft, &found.laid)?;
    files::write_all(folder, &files).map_err(|fault| vec![fault])
}

fn drawn(draft: &Draft, laid: &Laid) -> Result<Vec<(String, Vec<u8>)>, Vec<Finding>> {
    let fault = |fault| vec![unprinted(&fault)];
    let panel = lays::drawn(draft, &laid.goods, &laid.lays[0]);
    let drawing = drawing::lay_drawing(panel, &making::papers::labels(draft));
    Ok(vec![
        (
            "most-lay.svg".to_owned(),
            sheet::svg(&drawing).map_err(fault)?.into_bytes(),
        ),
        (
            "most-lay.png".to_owned(),
            sheet::png(&drawing, PICTURE_WIDTH).map_err(fault)?,
        ),
    ])
}

fn told(arguments: &MostArguments, draft: &Draft, goods: &Goods, most: &Most) -> String {
    if arguments.json {
        let json = answers::most_json(goods, &wishes(arguments), most);
        return pattern::json::text(&json);
    }
    let drawn = match (&arguments.out, &most.found) {
        (Some(folder), Some(_)) => format!(
            "Its lay is drawn in {}: most-lay.svg, most-lay.png.\n",
            folder.display()
        ),
        _ => String::new(),
    };
    let answer = answers::most_text(goods, most);
    format!("{}\n\n{answer}{drawn}", title(draft))
}
