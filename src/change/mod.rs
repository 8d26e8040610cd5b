//! Releases and changes: a manual frozen under a letter, and the difference between two configurations.
//!
//! Owns: the normalised sources and the release file, letters and dates, the history in `releases/`, comparing two
//! resolved configurations. Must not know: documents, the terminal, the clock.

mod as_shipped;
mod compare;
mod conversion;
mod date;
mod digest;
mod entries;
mod graph;
mod history;
mod impact;
mod impact_report;
mod letter;
mod list_rows;
mod normal;
mod notice;
mod past;
mod release;
mod renamed;
mod report;
mod restore;
mod words;

pub use as_shipped::as_shipped;
pub use compare::{
    Change, ItemChange, Quantities, Redo, SHOWN_COLUMNS, Side, StepChange, StepMark, compare, configuration_digest,
};
pub use conversion::{Conversion, CountedItem, Off, WeightChange, conversion};
pub use date::Date;
pub use digest::hex_digest;
pub use entries::only_typing_errors;
pub use graph::{Aspect, ImpactThing, Reach};
pub use history::{History, RELEASES, Standing, store_path};
pub use impact::{Documents, Impact, JointImpact, KitTouched, Noted, Pair, Touched, impact, kits_touched};
pub use impact_report::{impact_json, impact_text};
pub use letter::Letter;
pub use list_rows::ListRow;
pub use normal::{LineMark, SourceLine, body, normalise};
pub use notice::{BuiltText, Concern, KitNotice, Notice, NoticeStep, Sent, StepFate, Subject};
pub use past::{Last, NameKind, Past, Retired, Titles, retired, titles};
pub use release::{Class, Release, SCHEMA, Unreadable};
pub use renamed::Renamed;
pub use report::{json, text};
pub use restore::{Restored, restore, restore_where};
pub use words::{Edit, edits};
