//! The arguments of the program, and its help.

use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser as _};
use clap::{Args, Parser, Subcommand};
use cloth::lay::Way;
use pattern::Layer;
use sheet::PaperSize;

mod book;

pub use book::{
    BookArguments, BookCommand, CopyArguments, DifferenceArguments, ExportArguments,
    GoBackArguments, HistoryArguments, ImportArguments, OneDocument, ShowArguments,
};

/// Drafts clothes from measures of a body and prints them at full size.
#[derive(Clone, Debug, Parser)]
#[command(name = "notchbook", version, max_term_width = 100, after_help = EXAMPLES)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

const EXAMPLES: &str = "\
Examples:
  notchbook new summer-dress            begin: a body file, a garment file, how to measure
  notchbook body summer-dress/body.kdl  see all measures, and whether they agree
  notchbook check summer-dress/garment.kdl
  notchbook steps summer-dress/garment.kdl
  notchbook make summer-dress/garment.kdl --paper letter

Exit codes: 0 all is well, 1 the pattern has errors, 2 something could not be read, drafted
or written.";

/// What to do.
#[derive(Clone, Debug, Subcommand)]
pub enum Command {
    /// Draft a garment and write its papers: pattern, cutting list, findings
    Make(MakeArguments),
    /// Draft a garment and say what is wrong with it, and mend it where that is asked for
    Check(CheckArguments),
    /// Say and draw what each step of a garment changed
    Steps(StepsArguments),
    /// Lay two garments over each other and say what moved by how much
    Compare(CompareArguments),
    /// Show all measures of a body, taped or estimated, and whether they agree
    Body(BodyArguments),
    /// Begin: write a body file, a garment file and how to measure
    New(NewArguments),
    /// Open your book on a page in the browser: measure, draft, style, print
    Open(OpenArguments),
    /// Lay the pieces of a garment on their cloths and say how much to buy
    Lay(LayArguments),
    /// Say how much of a number the cloth on hand allows: as full, as long as it suffices
    Most(MostArguments),
    /// Search for a short lay of a benchmark instance, to measure the lay engine
    Nest(NestArguments),
    /// Keep bodies, garments and the rest in one file, with every revision they ever had
    Book(BookArguments),
}

/// A garment and the body that it is for.
#[derive(Clone, Debug, Args)]
pub struct Given {
    /// The garment's file
    #[arg(value_name = "GARMENT.kdl")]
    pub garment: PathBuf,
    /// The body's file, instead of the one that the garment names
    #[arg(long, value_name = "FILE")]
    pub body: Option<PathBuf>,
    /// Draft even where the body's measures contradict each other
    #[arg(long)]
    pub even_so: bool,
}

/// Arguments of `make`.
#[derive(Clone, Debug, Args)]
#[command(after_help = MAKE_EXAMPLES)]
pub struct MakeArguments {
    /// What to draft.
    #[command(flatten)]
    pub given: Given,
    /// The folder for the papers; “dress-papers” in the current folder for “dress.kdl”
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// What to print on; several with commas between them
    #[arg(
        long,
        value_name = "PAPER",
        default_value = "a4",
        value_delimiter = ',',
        ignore_case = true
    )]
    #[arg(value_parser = paper_parser())]
    pub paper: Vec<PaperSize>,
}

const MAKE_EXAMPLES: &str = "\
Writes pattern-PAPER.pdf, pieces.svg, pieces.png, lays.pdf, pattern.json, cutting-list.txt,
things-to-buy.txt and findings.txt, and layers.svg and layers.png where layers lie on each
other, all of them or none; files of these names are replaced.

Examples:
  notchbook make dress.kdl
  notchbook make dress.kdl --paper a4,roll-914 --out papers
  notchbook make dress.kdl --body bodies/rosalba.kdl";

/// Arguments of `check`.
#[derive(Clone, Debug, Args)]
#[command(after_help = CHECK_EXAMPLES)]
pub struct CheckArguments {
    /// What to draft.
    #[command(flatten)]
    pub given: Given,
    /// Write the findings as JSON
    #[arg(long)]
    pub json: bool,
    /// Show the cures that can be written into the garment's file or, with their numbers or “all”,
    /// write them; with --even-so also where more errors come of it
    #[arg(
        long,
        value_name = "WHICH",
        num_args = 0..,
        value_delimiter = ',',
        conflicts_with = "json"
    )]
    pub mend: Option<Vec<Which>>,
}

/// Which cure is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The one of this number, from 1.
    Number(usize),
    /// The first of each finding.
    All,
}

impl std::str::FromStr for Which {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        match text.trim().parse() {
            _ if text.trim() == "all" => Ok(Self::All),
            Ok(number) if number > 0 => Ok(Self::Number(number)),
            _ => Err(
                "a cure is called by its number, such as 2, or all of them by “all”; the garment's file stands before --mend"
                    .to_owned(),
            ),
        }
    }
}

const CHECK_EXAMPLES: &str = "\
With --mend alone nothing is written: each cure is shown with its number and the lines that
would change. A garment on which this one stands is never changed.

Examples:
  notchbook check dress.kdl
  notchbook check dress.kdl --mend
  notchbook check dress.kdl --mend 1,3
  notchbook check dress.kdl --body bodies/rosalba.kdl --json";

/// Arguments of `steps`.
#[derive(Clone, Debug, Args)]
#[command(after_help = STEPS_EXAMPLES)]
pub struct StepsArguments {
    /// What to draft.
    #[command(flatten)]
    pub given: Given,
    /// The folder for the pictures; “dress-steps” in the current folder for “dress.kdl”
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

const STEPS_EXAMPLES: &str = "\
Writes two pictures a step, such as step-03-transfer.svg and step-03-transfer.png: grey as it
was, black as it is then.

Examples:
  notchbook steps princess-bodice.kdl
  notchbook steps princess-bodice.kdl --out pictures";

/// Arguments of `compare`.
#[derive(Clone, Debug, Args)]
#[command(after_help = COMPARE_EXAMPLES)]
pub struct CompareArguments {
    /// The first garment's file, drawn in grey
    #[arg(value_name = "ONE.kdl")]
    pub one: PathBuf,
    /// The second garment's file, drawn in black
    #[arg(value_name = "OTHER.kdl")]
    pub other: PathBuf,
    /// The body's file for both, instead of those that they name
    #[arg(long, value_name = "FILE")]
    pub body: Option<PathBuf>,
    /// Draft even where the body's measures contradict each other
    #[arg(long)]
    pub even_so: bool,
    /// The folder for the picture; “one-beside-other” in the current folder
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

const COMPARE_EXAMPLES: &str = "\
Writes compared.svg and compared.png. Pieces of one name lie with their centre lines and the
waist on each other, others by their grain.

Examples:
  notchbook compare block.kdl dress.kdl
  notchbook compare dress-1.kdl dress-2.kdl --body bodies/rosalba.kdl";

/// Arguments of `body`.
#[derive(Clone, Debug, Args)]
#[command(after_help = BODY_EXAMPLES)]
pub struct BodyArguments {
    /// The body's file
    #[arg(value_name = "BODY.kdl")]
    pub body: PathBuf,
    /// Write the measures as JSON
    #[arg(long)]
    pub json: bool,
}

const BODY_EXAMPLES: &str = "\
Examples:
  notchbook body bodies/rosalba.kdl
  notchbook body bodies/rosalba.kdl --json";

/// Arguments of `new`.
#[derive(Clone, Debug, Args)]
#[command(after_help = NEW_EXAMPLES)]
pub struct NewArguments {
    /// The folder; made where it is not there
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

const NEW_EXAMPLES: &str = "\
Writes body.kdl, garment.kdl and measuring.txt, and replaces nothing.

Example:
  notchbook new summer-dress";

/// Arguments of `open`.
#[derive(Clone, Debug, Args)]
#[command(after_help = OPEN_EXAMPLES)]
pub struct OpenArguments {
    /// The book, instead of your own; begun where it is not there
    #[arg(long, value_name = "FILE")]
    pub book: Option<PathBuf>,
    /// The port to listen on; any free one where it is 0
    #[arg(long, value_name = "PORT", default_value_t = 0)]
    pub port: u16,
    /// Print the address, and open no browser
    #[arg(long)]
    pub no_browser: bool,
}

const OPEN_EXAMPLES: &str = "\
The page is answered by this machine alone and asks nothing of any other. The address carries a
key of this start, so that no other page in your browser can reach your book.

Examples:
  notchbook open
  notchbook open --book summer.notchbook --port 8080 --no-browser";

/// Arguments of `lay`.
#[derive(Clone, Debug, Args)]
#[command(after_help = LAY_EXAMPLES)]
pub struct LayArguments {
    /// What to draft.
    #[command(flatten)]
    pub given: Given,
    /// The cloth's file, instead of the one that the garment names; for the outside unless --layer
    /// says otherwise
    #[arg(long, value_name = "FILE")]
    pub cloth: Option<PathBuf>,
    /// Which layers; all of them where none is named
    #[arg(long, value_name = "LAYER", value_delimiter = ',', value_parser = layer_parser())]
    pub layer: Vec<Layer>,
    /// How much of the cloth there is, such as “1.8 m”: say whether it suffices and, if not, what
    /// would make it suffice; for the outside unless --layer says otherwise
    #[arg(long, value_name = "LENGTH", value_parser = millimetres)]
    pub length: Option<f64>,
    /// How wide the cloth is from edge to edge, instead of what its file says
    #[arg(long, value_name = "WIDTH", value_parser = millimetres)]
    pub width: Option<f64>,
    /// Say what would save cloth: another fold, a piece off the fold, a seam more, the grain a
    /// little off
    #[arg(long)]
    pub savings: bool,
    /// How the cloth is folded; every way that the cloth allows where none is named
    #[arg(long, value_name = "FOLD", value_delimiter = ',', value_parser = way_parser())]
    pub fold: Vec<Way>,
    /// How far the grain of a piece may be off, degrees
    #[arg(long, value_name = "DEGREES", default_value_t = 0.0, value_parser = grain)]
    pub grain: f64,
    /// Match stripes and plaids at this notch where a seam has it, instead of at the lowest
    #[arg(long, value_name = "NOTCH")]
    pub match_at: Option<String>,
    /// Match sleeves to the bodice, at the front of the armhole
    #[arg(long)]
    pub match_sleeves: bool,
    /// How long to search
    #[arg(long, value_name = "SECONDS", default_value_t = 10.0, value_parser = seconds)]
    pub seconds: f64,
    /// How many places to try for each cloth, instead of how long; repeats on every machine
    #[arg(long, value_name = "NUMBER", conflicts_with = "seconds")]
    pub evaluations: Option<u64>,
    /// Where chance begins
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// The folder for the drawings; “dress-lays” in the current folder for “dress.kdl”
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

const LAY_EXAMPLES: &str = "\
Writes a drawing of each lay as SVG and PNG, lays.pdf with the shortest lay of each cloth,
lays.txt and lays.json; answers.json with --length or --savings.

Examples:
  notchbook lay dress.kdl
  notchbook lay dress.kdl --cloth cloths/plaid-wool.kdl --fold open --match-sleeves
  notchbook lay dress.kdl --layer lining --fold length,partly --seconds 30
  notchbook lay dress.kdl --length \"1.8 m\" --width \"140 cm\"
  notchbook lay dress.kdl --layer facing --savings";

/// Arguments of `most`.
#[derive(Clone, Debug, Args)]
#[command(after_help = MOST_EXAMPLES)]
pub struct MostArguments {
    /// What to draft.
    #[command(flatten)]
    pub given: Given,
    /// The number, such as skirt.fullness or skirt.length
    #[arg(value_name = "NUMBER")]
    pub number: String,
    /// The cloth's file, instead of the one that the garment names
    #[arg(long, value_name = "FILE")]
    pub cloth: Option<PathBuf>,
    /// Which layers are cut from the cloth
    #[arg(
        long,
        value_name = "LAYER",
        value_delimiter = ',',
        default_value = "shell",
        value_parser = layer_parser()
    )]
    pub layer: Vec<Layer>,
    /// How much of the cloth there is, instead of what its file says
    #[arg(long, value_name = "LENGTH", value_parser = millimetres)]
    pub length: Option<f64>,
    /// How wide the cloth is from edge to edge, instead of what its file says
    #[arg(long, value_name = "WIDTH", value_parser = millimetres)]
    pub width: Option<f64>,
    /// How the cloth is folded; every way that the cloth allows where none is named
    #[arg(long, value_name = "FOLD", value_delimiter = ',', value_parser = way_parser())]
    pub fold: Vec<Way>,
    /// How many places to try for each value
    #[arg(long, value_name = "NUMBER", default_value_t = cloth::answers::Trials::default().evaluations)]
    pub evaluations: u64,
    /// Where chance begins
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// Write the answer as JSON
    #[arg(long)]
    pub json: bool,
    /// A folder for the lay that proves the answer, as SVG and PNG
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

const MOST_EXAMPLES: &str = "\
Every value is drafted anew with all checks, and laid; nothing is written into the garment's
file. A word that is no number is answered by those that the garment has.

Examples:
  notchbook most dress.kdl skirt.fullness --length \"2.2 m\"
  notchbook most dress.kdl skirt.length --cloth cloths/black-wool-crepe.kdl --out proof
  notchbook most skirt.kdl skirt.length --layer lining --length \"80 cm\" --fold length";

/// Arguments of `nest`.
#[derive(Clone, Debug, Args)]
#[command(after_help = NEST_EXAMPLES)]
pub struct NestArguments {
    /// The instance, in the form neutral-strip-packing-1
    #[arg(value_name = "INSTANCE.json")]
    pub instance: PathBuf,
    /// How long to search
    #[arg(long, value_name = "SECONDS", default_value_t = 10.0, value_parser = seconds)]
    pub seconds: f64,
    /// How many places to try, instead of how long; repeats on every machine
    #[arg(long, value_name = "NUMBER", conflicts_with = "seconds")]
    pub evaluations: Option<u64>,
    /// Where chance begins
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// Write the lay as JSON
    #[arg(long)]
    pub json: bool,
}

const NEST_EXAMPLES: &str = "\
Examples:
  notchbook nest marques.json --seconds 30
  notchbook nest marques.json --evaluations 5000000 --seed 2 --json";

fn seconds(text: &str) -> Result<f64, String> {
    let value: f64 = text
        .parse()
        .map_err(|_| "a number of seconds is needed, such as 30")?;
    if (0.0..=86_400.0).contains(&value) {
        Ok(value)
    } else {
        Err("from 0 to 86400 seconds can be given".to_owned())
    }
}

fn millimetres(text: &str) -> Result<f64, String> {
    let length = document::parse_length(text).map_err(|_| "a length is needed, such as “1.8 m”")?;
    if (10.0..=100_000.0).contains(&length.mm()) {
        Ok(length.mm())
    } else {
        Err("from 1 cm to 100 m can be given".to_owned())
    }
}

fn grain(text: &str) -> Result<f64, String> {
    let value: f64 = text
        .parse()
        .map_err(|_| "a number of degrees is needed, such as 3")?;
    if (0.0..=10.0).contains(&value) {
        Ok(value)
    } else {
        Err("from 0 to 10 degrees can be given".to_owned())
    }
}

fn layer_parser() -> impl clap::builder::TypedValueParser<Value = Layer> {
    PossibleValuesParser::new(Layer::ALL.map(Layer::word)).map(|word| {
        crate::command::lay::layer_by_word(&word).expect("only words of layers are let through")
    })
}

fn way_parser() -> impl clap::builder::TypedValueParser<Value = Way> {
    PossibleValuesParser::new(Way::ALL.map(Way::word)).map(|word| {
        crate::command::lay::way_by_word(&word).expect("only words of ways are let through")
    })
}

fn paper_parser() -> impl clap::builder::TypedValueParser<Value = PaperSize> {
    PossibleValuesParser::new(PaperSize::ALL.map(PaperSize::name))
        .map(|name| PaperSize::by_name(&name).expect("only names of papers are let through"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory as _;

    #[test]
    fn the_arguments_are_sound() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn papers_are_read_by_name() {
        let arguments =
            Arguments::parse_from(["notchbook", "make", "x.kdl", "--paper", "A3,roll-914"]);
        let Command::Make(make) = arguments.command else {
            panic!("make was asked for")
        };
        assert_eq!(make.paper, [PaperSize::A3, PaperSize::Roll914]);
    }
}
