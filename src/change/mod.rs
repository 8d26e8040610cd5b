//! Releases and changes: a manual frozen under a letter, and the difference between two configurations.
//!
//! Owns: the normalised sources and the release file, letters, the history in `releases/`, comparing two
//! resolved configurations. Must not know: documents, the terminal, the clock.

mod as_shipped;
mod carried;
mod compare;
mod conversion;
mod digest;
mod entries;
mod frozen;
mod graph;
mod history;
mod impact;
mod impact_report;
mod letter;
mod list_rows;
mod normal;
mod notice;
mod past;
mod reasons;
mod release;
mod renamed;
mod report;
mod restore;
mod review;
mod seal;
mod store;
mod words;

pub use as_shipped::{at_hand, complete, deviations, in_words};
pub use compare::{Change, ItemChange, Quantities, Redo, Side, StepChange, StepMark, compare};
pub use conversion::{Conversion, CountedItem, Off, WeightChange, conversion};
pub use digest::{digest, hex_digest};
pub use entries::only_typing_errors;
pub use frozen::frozen_digest;
pub use graph::{Aspect, ImpactThing, Reach};
pub use history::{History, RELEASES, Standing, seal_path, store_path};
pub use impact::{
    Documents, Impact, JointImpact, KitTouched, MadeDocument, Noted, Pair, ShopWork, Touched, impact, kits_touched,
};
pub use impact_report::{impact_json, impact_text};
pub use letter::Letter;
pub use list_rows::ListRow;
pub use normal::{LineMark, SourceLine, body, normalise};
pub use notice::{BuiltText, Concern, KitNotice, Notice, NoticeStep, Sent, StepFate, Subject};
pub use past::{Last, NameKind, Past, Retired, Titles, retired, titles};
pub use release::{Class, Release, SCHEMA, Unreadable, with_digest};
pub use renamed::{Renamed, Renumbered, Split};
pub use report::{json, text};
pub use restore::{Restored, restore, restore_where};
pub use review::{Counterpart, Review, ReviewSection, ReviewedStep, StepStanding};
pub use seal::Seal;
pub use store::{mended, store_faults, unstored};
pub use words::{Edit, edits};
