//! What was typed. The help, the man page and the shell completions come from here.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::change::Class;
use crate::document::PrintScale;
use crate::model::DeviationKind;
use crate::trade::Profile;
use crate::units::Date;

/// Compile build manuals for kits
///
/// Reads a folder of steps, parts and hardware lists, checks them against one another for every variant and
/// option, and makes the manuals, shop copies and pick lists.
#[derive(Debug, Parser)]
#[command(
    name = "kitwright",
    version,
    max_term_width = 100,
    after_help = "Exit status: 0 no errors (there may be warnings and hints); 1 errors in the manual, a release that differs from \
                  the sources or a broken copy of a stick; 2 could not run."
)]
pub struct Typed {
    #[command(subcommand)]
    pub(super) command: TypedCommand,
    #[command(flatten)]
    pub(super) shared: Shared,
}

/// Options of every command.
#[derive(Debug, Args)]
pub(super) struct Shared {
    /// How findings are shown
    #[arg(long, global = true, value_enum, default_value_t = FormatWord::Full)]
    pub format: FormatWord,
    /// Say what was assumed about the tables, and which configurations were checked
    #[arg(long, global = true)]
    pub verbose: bool,
    /// Work on this many things at once; as many as the machine can if not given
    #[arg(long, global = true, value_name = "NUMBER")]
    pub threads: Option<usize>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum FormatWord {
    /// With the place in the source, what is wrong there and what to do
    #[value(alias = "human")]
    Full,
    /// One line a finding: file:line:column: level: rule: headline
    #[value(alias = "short")]
    Lines,
    /// One JSON object a line
    Json,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum UnitsWord {
    Inch,
    Mm,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum PaperWord {
    Letter,
    A4,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum TradeWord {
    AircraftInch,
    MetricGeneral,
}

impl TradeWord {
    /// As manual.yaml has it.
    pub fn word(self) -> &'static str {
        let [aircraft, metric] = Profile::NAMES;
        match self {
            Self::AircraftInch => aircraft,
            Self::MetricGeneral => metric,
        }
    }
}

/// The manual's folder, the last word of every command that reads a manual. It was once an option of some of them, which is
/// still read.
#[derive(Debug, Args)]
pub(super) struct Folder {
    /// The manual's folder
    #[arg(value_name = "FOLDER", default_value = MANUAL)]
    last: PathBuf,
    #[arg(long = "folder", value_name = "FOLDER", hide = true, conflicts_with = "last")]
    named: Option<PathBuf>,
}

impl Folder {
    pub fn path(self) -> PathBuf {
        self.named.unwrap_or(self.last)
    }
}

/// Where the manual is if nothing else is said.
pub(super) const MANUAL: &str = "manual-src";

/// The kind of a deviation; a substitution where none is given.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub(super) struct Shipping {
    /// It was not in the crates and follows later
    #[arg(long)]
    back_order: bool,
    /// It was on back order and has been sent now
    #[arg(long)]
    sent_later: bool,
    /// It was sent besides what the kit holds
    #[arg(long)]
    in_addition: bool,
    /// It came from a lot that is to be remembered; needs --lot
    #[arg(long, requires = "lot")]
    of_lot: bool,
}

impl Shipping {
    pub fn kind(&self) -> DeviationKind {
        match self {
            Self { back_order: true, .. } => DeviationKind::BackOrder,
            Self { sent_later: true, .. } => DeviationKind::SentLater,
            Self { in_addition: true, .. } => DeviationKind::InAddition,
            Self { of_lot: true, .. } => DeviationKind::Lot,
            _ => DeviationKind::Substituted,
        }
    }
}

#[derive(Debug, Subcommand)]
pub(super) enum TypedCommand {
    /// Write a small manual to begin from
    ///
    /// The folder must not be there yet, or be empty.
    Start {
        #[command(flatten)]
        folder: Folder,
        /// The units of the manual: inches or millimetres
        #[arg(long, value_enum, default_value_t = UnitsWord::Inch)]
        units: UnitsWord,
        /// The paper of its documents; letter for inches, a4 for millimetres if not given
        #[arg(long, value_enum)]
        paper: Option<PaperWord>,
        /// The trade whose usual limits joints are held against; metric-general for millimetres if not given
        #[arg(long, value_enum)]
        trade: Option<TradeWord>,
    },
    /// Check the manual for every variant and allowed set of options
    Check {
        #[command(flatten)]
        folder: Folder,
        /// Show what was judged by tables, what by values from memory, what not at all, and why
        #[arg(long)]
        coverage: bool,
        /// Ask as well about what may be right and may be a mistake; answer by a correction, or with `accept`
        #[arg(long, conflicts_with = "coverage")]
        review: bool,
    },
    /// Check the manual, then make the documents of every declared configuration
    ///
    /// Where there are errors, nothing is written. The folder of a configuration is replaced as a whole once all
    /// documents are made; files in it that the program did not write are kept.
    Compile {
        #[command(flatten)]
        folder: Folder,
        /// Where the documents go
        #[arg(long, value_name = "FOLDER", default_value = "out")]
        out: PathBuf,
        /// Only this configuration, for example ICE+claw; may be given more than once. kit-0147 is the kit with that serial
        /// number, as it was shipped: its release, its deviations
        #[arg(long, value_name = "NAME")]
        configuration: Vec<String>,
        #[arg(long, value_name = "SERIAL", conflicts_with = "configuration", hide = true)]
        kit: Option<u32>,
        /// Make a kit's manual although this program finds errors in its release, which can't be changed any more; they
        /// are listed, for you to judge what they mean for the builder
        #[arg(long)]
        despite_errors: bool,
        /// What your printer makes of 100, across and down, measured on a template: 98.7x99.1. Templates come out true
        #[arg(long, value_name = "ACROSSxDOWN", default_value = "100x100", value_parser = PrintScale::parse)]
        print_scale: PrintScale,
    },
    /// Check the manual, then make the folder that is copied to a stick, and an archive of it
    ///
    /// The folder holds the manual, the paged documents, the lists, a page to start from and checksums.
    Stick {
        #[command(flatten)]
        folder: Folder,
        /// Where the sticks go, each in a folder of its configuration
        #[arg(long, value_name = "FOLDER", default_value = "out/stick")]
        out: PathBuf,
        /// Only this configuration, for example ICE+claw; may be given more than once. kit-0147 is the kit with that serial
        /// number, as it was shipped: its release, its deviations
        #[arg(long, value_name = "NAME")]
        configuration: Vec<String>,
        #[arg(long, value_name = "SERIAL", conflicts_with = "configuration", hide = true)]
        kit: Option<u32>,
        /// Make a kit's manual although this program finds errors in its release, which can't be changed any more; they
        /// are listed, for you to judge what they mean for the builder
        #[arg(long)]
        despite_errors: bool,
        /// What the builder's printer makes of 100, across and down, measured on a template: 98.7x99.1. Templates come out true
        #[arg(long, value_name = "ACROSSxDOWN", default_value = "100x100", value_parser = PrintScale::parse)]
        print_scale: PrintScale,
    },
    /// Say whether a copy of a stick is whole: name every missing, changed and extra file
    Verify {
        /// The folder that holds START-HERE.html
        #[arg(value_name = "FOLDER")]
        folder: PathBuf,
    },
    /// Show a step and the one made of it for the other hand side by side, the changed words in brackets
    Opposite {
        /// A step's id
        step: String,
        #[command(flatten)]
        folder: Folder,
    },
    /// Freeze the manual under the next release letter
    ///
    /// The release is a file in the manual's folder `releases`, with the pictures beside it; put both under version
    /// control. A manual with errors, or one of which a document can't be made, is not released, and no release is ever
    /// overwritten.
    Release {
        #[command(flatten)]
        folder: Folder,
        /// Only say whether the sources differ from the last release, and list the files of the releases with their
        /// digests; exit status 1 where they differ
        #[arg(long, conflicts_with_all = ["summary", "class", "date", "seal"])]
        check: bool,
        /// Write the digests of releases of an earlier form beside them, and put back pictures that are gone from
        /// `releases/files` and still in the sources; nothing is frozen
        #[arg(long, conflicts_with_all = ["summary", "class"])]
        seal: bool,
        /// Seal only what is the same in this copy of the manual's folder
        #[arg(long, value_name = "FOLDER", requires = "seal")]
        against: Option<PathBuf>,
        /// What changed, in a line
        #[arg(long, value_name = "TEXT", required_unless_present_any = ["check", "seal"])]
        summary: Option<String>,
        /// What it means for kits that are built already: mandatory, recommended or information
        #[arg(long, value_name = "WORD", required_unless_present_any = ["check", "seal"], value_parser = class)]
        class: Option<Class>,
        /// The date of the release or seal, as 2026-03-01; today if not given
        #[arg(long, value_name = "DATE", value_parser = date)]
        date: Option<Date>,
    },
    /// Compare two configurations: of releases, of the sources as they are, or kits
    ///
    /// B/ICE is ICE as in release B, ICE is ICE in the sources as they are, kit-0147 is a kit as it was shipped,
    /// working/kit-0147 as it would be today. With --format json the change is one JSON object.
    Compare {
        /// What to compare from
        from: String,
        /// What to compare to
        to: String,
        /// Write the change as pages and on paper too, into a folder of its own in this one
        #[arg(long, value_name = "FOLDER")]
        out: Option<PathBuf>,
        #[command(flatten)]
        folder: Folder,
    },
    /// Say what the sources as they are change against the last release, and what depends on that
    ///
    /// Names the documents, lists, templates and bags of each configuration that change, joints, cuts and
    /// steps elsewhere that depend on what changed, configurations that share a part and do not get the change, and kits.
    Impact(Folder),
    /// Say what a release, a lot or a part means for each kit of the register, and write a notice to each builder
    ///
    /// Writes a list for the maker (kits.csv), what to send (to-send.csv), and for each kit that it concerns and that has
    /// not answered a document with what to do, the new pages and a slip to send back. The class of a release is that of the
    /// release; of a lot or a part it is given here.
    Notice {
        /// The letter of the release; left out for a lot or a part
        #[arg(required_unless_present = "item")]
        release: Option<String>,
        /// The manual's folder [default: manual-src]
        #[arg(value_name = "FOLDER")]
        last: Option<PathBuf>,
        /// A lot of shipped.csv
        #[arg(long, value_name = "NUMBER", group = "item", requires = "class", requires = "summary")]
        lot: Option<String>,
        /// A part number or a designation
        #[arg(long, value_name = "NUMBER", group = "item", requires = "class", requires = "summary")]
        part: Option<String>,
        /// What it means for kits that have it: mandatory, recommended or information
        #[arg(long, value_name = "WORD", value_parser = class, requires = "item")]
        class: Option<Class>,
        /// What is the matter, in a line
        #[arg(long, value_name = "TEXT", requires = "item")]
        summary: Option<String>,
        /// What to do where it is built in already
        #[arg(long, value_name = "TEXT", requires = "item")]
        built: Option<String>,
        /// Where the notices go, each in a folder of its own
        #[arg(long, value_name = "FOLDER", default_value = "out/notices")]
        out: PathBuf,
        #[arg(long, value_name = "FOLDER", hide = true)]
        folder: Option<PathBuf>,
    },
    /// Write the document of a conversion: what comes off, what is sent, the steps to do, what to inspect
    ///
    /// FROM and TO are named as for compare: SAND+brake ICE+claw, or kit-0147 ICE+claw. Steps under `only: from SAND to ICE`
    /// belong to it.
    Convert {
        /// What is converted
        from: String,
        /// What it becomes
        to: String,
        /// Where it goes, in a folder of its own
        #[arg(long, value_name = "FOLDER", default_value = "out/conversions")]
        out: PathBuf,
        #[command(flatten)]
        folder: Folder,
    },
    /// List the rules, or explain one
    Rules {
        /// A rule's id, as findings show it
        name: Option<String>,
    },
    /// List the keys and columns, or explain those of one file, list or group
    Keys {
        /// A file, a list or a group, for example cuts, parts.csv or fastening
        name: Option<String>,
    },
    /// Give a thing a new name, wherever it is named
    ///
    /// Without --write it only shows the places.
    Rename {
        /// The name as it is
        old: String,
        /// The new name
        new: String,
        /// What it is the name of, where several things have that name: part, hardware, step, tool, datum, ...
        #[arg(long, value_name = "KIND")]
        kind: Option<String>,
        /// Change the files
        #[arg(long)]
        write: bool,
        #[command(flatten)]
        folder: Folder,
    },
    /// Add a variant that is based on another, and decide place by place what it has of it
    ///
    /// Lists every condition that names the other variant and not this one, in a file that you answer with yes or no, and
    /// with --ask in the terminal. With --write this one is named where the answer is yes. Once every place is answered,
    /// manual.yaml says so.
    Variant {
        /// The variant
        name: String,
        /// The variant that a new one is based on: its quantities, and what is decided here
        #[arg(long, value_name = "VARIANT")]
        based_on: Option<String>,
        /// What a new one is called in words
        #[arg(long, value_name = "TEXT")]
        title: Option<String>,
        /// Answer for all places at once
        #[arg(long, value_name = "yes or no", value_parser = yes_no, conflicts_with_all = ["ask", "write"])]
        inherits: Option<bool>,
        /// Ask for each place that has no answer yet
        #[arg(long)]
        ask: bool,
        /// Write the answers into the sources
        #[arg(long)]
        write: bool,
        #[command(flatten)]
        folder: Folder,
    },
    /// Write a deviation of a kit into the kit register
    ///
    /// The kit is judged with it first, joint by joint; where it does not fit, nothing is written. Without a kind it is a
    /// substitution: "2 AN4-15A: AN4-16A + AN960-416" puts AN4-16A in the place of two AN4-15A, with a washer more under each.
    Shipped {
        /// The kit's serial number, for example 147 or kit-0147
        kit: String,
        /// What: a number, the item, and of a substitution what was put in its place
        #[arg(value_name = "WHAT", required_unless_present = "slip")]
        what: Option<String>,
        /// A query slip that the builder saved: what was short or damaged on arrival is on back order. The rows are shown;
        /// nothing else of the slip is read
        #[arg(long, value_name = "FILE", conflicts_with_all = ["at", "approved", "lot"])]
        slip: Option<PathBuf>,
        /// Write the rows of the slip
        #[arg(long, requires = "slip")]
        write: bool,
        #[command(flatten)]
        how: Shipping,
        /// Where: a joint's id, STEP/JOINT or a step's id; may be given more than once. Everywhere in the kit if not given
        #[arg(long, value_name = "PLACE")]
        at: Vec<String>,
        /// Who allowed the substitution, the reference and the date, as one text
        #[arg(long, value_name = "TEXT")]
        approved: Option<String>,
        /// The number of the lot it came from
        #[arg(long, value_name = "NUMBER")]
        lot: Option<String>,
        /// When it was sent, as 2026-03-01
        #[arg(long, value_name = "DATE", value_parser = date)]
        date: Option<Date>,
        /// When what is on back order is expected
        #[arg(long, value_name = "DATE", value_parser = date)]
        expected: Option<Date>,
        /// A remark for the builder
        #[arg(long, value_name = "TEXT")]
        note: Option<String>,
        #[command(flatten)]
        folder: Folder,
    },
    /// Say why a step, a part, an item of hardware or a line is in or out of a configuration
    Why {
        /// A step's id, a part number, a designation, or a place such as steps/frame/keel.md:31
        id: String,
        /// For example ICE+claw, or kit-0147 for a kit in the register
        configuration: String,
        #[command(flatten)]
        folder: Folder,
    },
    /// List every use of a part, hardware, tool, consumable, figure or assembly
    Where {
        /// A number, designation, id or file name
        name: String,
        #[command(flatten)]
        folder: Folder,
    },
    /// Say which bolt or rivet, with which washers, fits a stack
    ///
    /// Those already in the manual come first, then those with the best margin.
    Fit {
        /// A bolt or rivet of the series to choose from, for example AN4-10A
        #[arg(value_name = "DESIGNATION")]
        fastener: String,
        /// What it clamps, from the head: .090, "tube 1.250x.058" (right through), "wall .058". Behind it may stand the
        /// manual's folder, as with every command
        #[arg(value_name = "MEMBER", required = true)]
        stack: Vec<String>,
        /// The nut, for example MS21044N4; without it nothing is said of the threads past it
        #[arg(long, value_name = "DESIGNATION")]
        nut: Option<String>,
        #[arg(long, value_name = "FOLDER", hide = true)]
        folder: Option<PathBuf>,
    },
    /// Write completions for a shell to standard output
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Write the man page of the program, or of one command, to standard output
    Man {
        /// A command
        command: Option<String>,
    },
}

fn class(text: &str) -> Result<Class, String> {
    Class::from_word(text).ok_or_else(|| "write mandatory, recommended or information".to_owned())
}

fn yes_no(text: &str) -> Result<bool, String> {
    match text {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => Err("write yes or no".to_owned()),
    }
}

fn date(text: &str) -> Result<Date, String> {
    Date::parse(text).ok_or_else(|| "write year, month and day, for example 2026-03-01".to_owned())
}
