//! What a picture may cost, far above any picture of a real manual. Everything is counted: no clock decides, so that the
//! same picture is taken or refused on every machine.
//!
//! Owns: the limits, in one place. Must not know: how a format is read.

/// The most pixels of one picture: a sheet of letter paper at 900 to the inch. Of one drawing all its photographs and all
/// that is drawn as pixels together.
pub(super) const MOST_PIXELS: u64 = 64_000_000;
/// The largest file of a photograph, in bytes.
pub(super) const LARGEST_PHOTOGRAPH: usize = 64 << 20;
/// The largest drawing, in bytes, its photographs included.
pub(super) const LARGEST_SVG: usize = 8 << 20;
/// The most pixels that a JPEG in several scans is decoded through, all scans together. Cameras write one scan, programs
/// up to a dozen.
pub(super) const MOST_SCANNED: u64 = 1_000_000_000;
/// The most bytes of a colour profile.
pub(super) const LARGEST_PROFILE: usize = 4 << 20;

/// How many elements, texts and remarks of a drawing are read.
pub(super) const MOST_NODES: u32 = 200_000;
/// How many attributes an element may have, and how many names for namespaces a drawing may declare.
pub(super) const MOST_ATTRIBUTES: usize = 1_000;
pub(super) const MOST_NAMESPACES: usize = 20_000;
pub(super) const MOST_PREFIXES: usize = 100;
/// How deep elements may be nested, with what they refer to written in their place.
pub(super) const DEEPEST: u32 = 128;
/// How many steps are taken to find what grey hides in a drawing, and how many colours of it are compared.
pub(super) const MOST_GREY_STEPS: u64 = 1_000_000_000;
pub(super) const MOST_COLOURS: usize = 1_000;
/// How many steps are taken to find which style rule concerns which element, and how many bytes of style come of it.
pub(super) const MOST_STYLE_STEPS: u64 = 20_000_000;
pub(super) const MOST_STYLE: usize = 16 << 20;

/// How much a drawing may be once everything it repeats is written out: in bytes of paths, where an element counts as
/// [`ELEMENT`] and a letter as [`LETTER`] bytes.
pub(super) const MOST_WRITTEN_OUT: u64 = 8_000_000;
pub(super) const ELEMENT: u64 = 20;
pub(super) const LETTER: u64 = 20;

/// How much work the parts of a drawing may be that are drawn as pixels: one for a pixel filled with a colour.
pub(super) const MOST_PAINTING: u64 = 1_500_000_000;
/// How many pixels may be held at once while such a part is drawn.
pub(super) const MOST_HELD: u64 = 48_000_000;
/// The work that a node costs whatever its size.
pub(super) const NODE_PAINTING: u64 = 500;
