//! How much screws and nuts bear by their property classes: ISO 898-1, ISO 898-2, ISO 3506-1 and -2.

use super::{Cited, Decoded, ItemForm, NutForm, Source, Thread};
use crate::units::Length;

const SCREWS: Source = Source::Published("ISO 898-1, stress under proof load, as extracted in print");
const NUTS: Source = Source::Published("ISO 898-2, stress under proof load, as extracted in print");
const STAINLESS: Source = Source::Published("ISO 3506-1, 0.2 % proof stress, as extracted in print");
/// The classes of ISO 3506-2 are a tenth of the stress under proof load.
const STAINLESS_NUTS: Source = Source::Published("ISO 3506-2, whose class is a tenth of the stress under proof load");
/// Countersunk and button heads are marked 08.8 and 010.9 for it: ISO 10642, ISO 7380-1.
const REDUCED: f64 = 0.8;

/// A property class, as it is marked on a metric screw or nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// A steel screw, in tenths: 88 is 8.8.
    Screw(u16),
    /// A steel nut of full height: 8.
    Nut(u8),
    /// A thin steel nut: 4 is 04.
    ThinNut(u8),
    /// Stainless steel: grade letter and digit, and a tenth of its strength where it is written: A4-70, A2.
    Stainless { letter: char, grade: u8, strength: Option<u8> },
}

impl std::fmt::Display for Class {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Self::Screw(tenths) => write!(f, "{}.{}", tenths / 10, tenths % 10),
            Self::Nut(class) => write!(f, "{class}"),
            Self::ThinNut(class) => write!(f, "0{class}"),
            Self::Stainless { letter, grade, strength: None } => write!(f, "{letter}{grade}"),
            Self::Stainless { letter, grade, strength: Some(n @ ..40) } => write!(f, "{letter}{grade}-0{n}"),
            Self::Stainless { letter, grade, strength: Some(n) } => write!(f, "{letter}{grade}-{n}"),
        }
    }
}

/// Stress under proof load of steel screws, N/mm2: class, to M16, above.
const SCREW_STRESS: [(u16, f64, f64); 9] = [
    (46, 225.0, 225.0),
    (48, 310.0, 310.0),
    (56, 280.0, 280.0),
    (58, 380.0, 380.0),
    (68, 440.0, 440.0),
    (88, 580.0, 600.0),
    (98, 650.0, 650.0),
    (109, 830.0, 830.0),
    (129, 970.0, 970.0),
];

/// Stress under proof load of steel nuts, N/mm2: class; to M4, to M7, to M10, to M16, above.
const NUT_STRESS: [(u8, [f64; 5]); 5] = [
    (5, [520.0, 580.0, 590.0, 610.0, 630.0]),
    (6, [600.0, 670.0, 680.0, 700.0, 720.0]),
    (8, [800.0, 855.0, 870.0, 880.0, 920.0]),
    (10, [1040.0, 1040.0, 1040.0, 1050.0, 1060.0]),
    (12, [1150.0, 1150.0, 1160.0, 1190.0, 1200.0]),
];

impl Class {
    /// The class in a grade or a material: `8.8`, `A4-70`, `steel, class 10.9`, `stainless A2`. `form` tells the 8 of a
    /// nut from other numbers.
    pub fn read(text: &str, form: ItemForm) -> Option<Self> {
        let nut = matches!(form, ItemForm::Nut(_));
        text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '(' | ')')).find_map(|word| {
            let mut chars = word.chars();
            if let Some(letter @ ('A' | 'C' | 'D' | 'F')) = chars.next() {
                let (grade, strength) = match word[1..].split_once('-') {
                    Some((grade, strength)) => (grade, Some(strength.parse().ok()?)),
                    None => (&word[1..], None),
                };
                let grade = grade.parse().ok().filter(|n| (1..=8).contains(n) && grade.len() == 1)?;
                return Some(Self::Stainless { letter, grade, strength });
            }
            if nut {
                return match word {
                    "04" | "05" => Some(Self::ThinNut(word[1..].parse().ok()?)),
                    _ => word.parse().ok().filter(|n| NUT_STRESS.iter().any(|row| row.0 == *n)).map(Self::Nut),
                };
            }
            // 08.8 is an 8.8 whose head bears less; that is known by its form.
            let (whole, tenth) = word.strip_prefix('0').unwrap_or(word).split_once('.')?;
            let tenths = whole.parse::<u16>().ok()?.checked_mul(10)?.checked_add(tenth.parse().ok()?)?;
            SCREW_STRESS.iter().any(|row| row.0 == tenths && tenth.len() == 1).then_some(Self::Screw(tenths))
        })
    }

    /// The lowest class there is of the same kind, for one that is not written whole.
    pub fn lowest(form: ItemForm, written: Option<Self>) -> Self {
        let thin = thin(form);
        match (written, form) {
            (Some(Self::Stainless { letter, grade, strength: None }), ItemForm::Nut(_)) => {
                Self::Stainless { letter, grade, strength: Some(if thin { 25 } else { 50 }) }
            }
            (Some(Self::Stainless { letter, grade, strength: None }), _) => {
                Self::Stainless { letter, grade, strength: Some(50) }
            }
            (Some(written), _) => written,
            (None, ItemForm::Nut(_)) if thin => Self::ThinNut(4),
            (None, ItemForm::Nut(_)) => Self::Nut(5),
            (None, _) => Self::Screw(46),
        }
    }
}

fn thin(form: ItemForm) -> bool {
    matches!(form, ItemForm::Nut(NutForm::Check | NutForm::CastleShear | NutForm::ElasticShear))
}

/// The nominal stress area of a metric thread, square millimetres (ISO 898-1): from pitch and minor diameter.
pub fn stress_area(thread: Thread) -> Option<f64> {
    let Thread::Metric { diameter, pitch } = thread else { return None };
    let (d, p) = (f64::from(diameter) / 100.0, f64::from(pitch) / 100.0);
    let mean = d - 0.9382 * p;
    (mean > 0.0).then_some(std::f64::consts::FRAC_PI_4 * mean * mean)
}

/// Whether the head bears less than the thread: countersunk and button heads.
pub fn reduced_head(form: ItemForm) -> bool {
    matches!(form, ItemForm::CountersunkScrew | ItemForm::ButtonScrew)
}

/// The load that a metric screw or nut of a class bears without giving, newtons. `None` for a class or a thread that the
/// standards do not have.
pub fn proof_load_of(item: &Decoded, class: Class) -> Option<Cited<f64>> {
    let thread = item.thread?;
    let area = stress_area(thread.value)?;
    let at_most = |mm: i64| thread.value.diameter() <= Length::millimetres(mm, 1);
    let nut = matches!(item.form, ItemForm::Nut(_));
    let (stress, source) = match class {
        Class::Screw(tenths) => {
            let row = SCREW_STRESS.iter().find(|row| row.0 == tenths && !nut)?;
            (if at_most(16) { row.1 } else { row.2 }, SCREWS)
        }
        Class::Nut(class) => {
            let row = NUT_STRESS.iter().find(|row| row.0 == class && nut)?;
            let at = [4, 7, 10, 16].iter().position(|&mm| at_most(mm)).unwrap_or(4);
            // A thin nut that is marked as a full one strips before it.
            (if thin(item.form) { row.1[at].min(500.0) } else { row.1[at] }, NUTS)
        }
        Class::ThinNut(class) => (if class == 5 { 500.0 } else { 380.0 }, NUTS),
        Class::Stainless { strength, .. } => match (strength?, nut) {
            (n, true) => (10.0 * f64::from(n) * if thin(item.form) && n >= 50 { 0.5 } else { 1.0 }, STAINLESS_NUTS),
            (50, false) => (210.0, STAINLESS),
            (70, false) => (450.0, STAINLESS),
            (80, false) => (600.0, STAINLESS),
            _ => return None,
        },
    };
    let factor = if reduced_head(item.form) { REDUCED } else { 1.0 };
    let source = if reduced_head(item.form) { source.min(Source::CommonPractice) } else { source };
    // What the thread is, stands in the designation.
    Some(Cited::new(stress * area * factor, source))
}
