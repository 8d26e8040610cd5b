//! Families of materials and the names they go by: alloys by the numbers of the standards, words of the trade.
//!
//! Some names of the trade belong to makers; they are understood and never written.

/// A family of materials.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MaterialFamily {
    Steel,
    Stainless,
    Aluminium,
    /// Copper, brass, bronze, copper-nickel.
    Copper,
    /// Nickel and its alloys.
    Nickel,
    Titanium,
    Magnesium,
    Zinc,
    Lead,
    Wood,
    Plastic,
    /// Fabric, webbing, rope, leather, felt.
    Textile,
    /// Fibres in resin.
    Composite,
    Rubber,
    Foam,
    Glass,
    Paper,
}

impl MaterialFamily {
    pub fn metal(self) -> bool {
        use MaterialFamily as F;
        matches!(
            self,
            F::Steel
                | F::Stainless
                | F::Aluminium
                | F::Copper
                | F::Nickel
                | F::Titanium
                | F::Magnesium
                | F::Zinc
                | F::Lead
        )
    }

    pub fn words(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::Stainless => "stainless steel",
            Self::Aluminium => "aluminium",
            Self::Copper => "copper alloy",
            Self::Nickel => "nickel alloy",
            Self::Titanium => "titanium",
            Self::Magnesium => "magnesium",
            Self::Zinc => "zinc",
            Self::Lead => "lead",
            Self::Wood => "wood",
            Self::Plastic => "plastic",
            Self::Textile => "fabric",
            Self::Composite => "fibre in resin",
            Self::Rubber => "rubber",
            Self::Foam => "foam",
            Self::Glass => "glass",
            Self::Paper => "paper",
        }
    }
}

use MaterialFamily as F;

/// Words that begin so mean the family. In the order in which they are tried: soft before hard, so that a
/// `steel-reinforced rubber` is rubber; what a thing is made of before what it is coated with is not told apart.
const BEGINNINGS: [(MaterialFamily, &str); 17] = [
    (F::Foam, "foam styrofoam polystyrene eps xps cork sponge"),
    (F::Rubber, "rubber neoprene epdm nbr silicone viton sorbothane elastomer"),
    (
        F::Composite,
        "glassfib carbon fiberglass fibreglass fibre fiber carbon-f grp gfk gfrp cfk cfrp frp g10 g-10 fr4 \
         fr-4 garolite tufnol micarta phenolic laminate kevlar aramid composite",
    ),
    (
        F::Wood,
        "wood ply plywood hardwood softwood timber spruce fir pine ash oak birch beech larch cedar mahogany \
         okoume gaboon meranti teak maple walnut poplar balsa bamboo mdf hdf chipboard osb masonite hardboard \
         douglas basswood lime",
    ),
    (
        F::Textile,
        "fabric cloth canvas cotton polyester dacron ceconite linen webbing rope cord leather felt wool nomex \
         cordura ripstop dyneema spectra hmpe uhmwpe-f polyamide-w sailcloth tape hemp jute",
    ),
    (
        F::Plastic,
        "plastic nylon polyamide pa6 pa12 pa-6 pa acetal delrin pom uhmw hdpe ldpe pe pehd polye polyprop pp \
         pvc cpvc abs asa petg pet pla ptfe teflon peek pmma acrylic perspex plexiglas polycarb lexan \
         makrolon pc polyure pur tpu polyolefin formica bakelite vinyl mylar corian vulkollan",
    ),
    (F::Glass, "glass ceramic"),
    (F::Paper, "paper card pressboard"),
    (
        F::Stainless,
        "stainless inox niro edelstahl corrosion cres nitronic nirosta v2a v4a a286 17-4 17-7 15-5 duplex \
         x5crni x2crni x6crni",
    ),
    (F::Aluminium, "alumin alu almg alsi alcu alzn almn dural alclad avional anticorodal perunal alplan aw"),
    (
        F::Copper,
        "copper brass bronze gunmetal cuni cuzn cusn cual cupronickel cda oilite muntz phosphor messing \
         beryllium cu ms58 rg7",
    ),
    (F::Nickel, "monel inconel nickel hastelloy nimonic incoloy"),
    (F::Titanium, "titan ti-6al ti6al ti"),
    (F::Magnesium, "magnes az31 az91 elektron"),
    (F::Zinc, "zamak zinc-alloy mazak"),
    (F::Lead, "lead"),
    (
        F::Steel,
        "steel iron chromoly chrome-moly cromoly crmo 25crmo 34crmo 42crmo 15cdv st37 st44 st52 st35 music \
         spring s235 s275 s355 s420 s460 s690 s700 e235 e355 p235 p265 p355 dc01 dc03 dc04 dd11 dx51 c15 c22 \
         c35 c45 c60 16mncr t45 docol hardox weldox strenx reynolds baustahl stahl cadmium-plated zinc-plated \
         galvan",
    ),
];

/// Steels by the numbers of SAE and AISI.
const SAE_STEELS: [u16; 24] = [
    1008, 1010, 1015, 1018, 1020, 1025, 1035, 1045, 1060, 1065, 1070, 1075, 1080, 1095, 1117, 1144, 1215, 2330, 4037,
    4130, 4140, 4340, 8620, 8740,
];
/// Wrought aluminium by the numbers of EN 573-3 and the Aluminum Association, those that are sold as bar, tube and sheet.
const ALUMINIUM: [u16; 55] = [
    1050, 1060, 1070, 1080, 1100, 1145, 1200, 1350, 2007, 2011, 2014, 2017, 2024, 2030, 2117, 2219, 2618, 3003, 3004,
    3005, 3103, 3105, 4043, 4047, 5005, 5049, 5050, 5052, 5056, 5083, 5086, 5154, 5182, 5251, 5356, 5454, 5556, 5754,
    6005, 6012, 6013, 6060, 6061, 6063, 6082, 6101, 6106, 6262, 6351, 7020, 7022, 7050, 7068, 7075, 7475,
];
/// Stainless steels by the numbers of AISI.
const AISI_STAINLESS: [u16; 17] = [201, 202, 301, 302, 303, 304, 305, 309, 310, 316, 317, 321, 347, 410, 416, 420, 430];

/// The family that a name means; `None` where no word of it is known.
pub fn material_family(name: &str) -> Option<MaterialFamily> {
    let name = name.to_ascii_lowercase();
    // Two words that say more together.
    for (words, family) in [
        ("glass fib", F::Composite),
        ("carbon fib", F::Composite),
        ("aramid fib", F::Composite),
        ("carbon steel", F::Steel),
        ("zinc alloy", F::Zinc),
        ("lead screw", F::Steel),
        ("spring steel", F::Steel),
        ("stainless spring", F::Stainless),
        ("polyethylene foam", F::Foam),
        ("polyester film", F::Plastic),
        ("polyester resin", F::Plastic),
        ("cork rubber", F::Rubber),
        ("wood screw", F::Steel),
        ("copper tinned", F::Copper),
        ("copper-nickel", F::Copper),
        ("nickel-copper", F::Nickel),
        ("nickel-plated steel", F::Steel),
        ("nickel silver", F::Copper),
    ] {
        if name.contains(words) {
            return Some(family);
        }
    }
    let words = || name.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '(' | ')' | '/'));
    let pieces = || words().chain(words().flat_map(|w| w.split(['-', '_'])));
    let begins = |list: &str| {
        pieces().any(|word| {
            // Short ones are names of their own; longer ones may go on.
            list.split(' ').any(|start| if start.len() <= 3 { word == start } else { word.starts_with(start) })
        })
    };
    if let Some((family, _)) = BEGINNINGS.iter().take(7).find(|(_, list)| begins(list)) {
        return Some(*family);
    }
    if let Some(family) = words().find_map(by_number) {
        return Some(family);
    }
    BEGINNINGS.iter().skip(7).find(|(_, list)| begins(list)).map(|(family, _)| *family)
}

/// A material by its number: `6082-T6`, `5754`, `1.4301`, `3.3206`, `4130N`, `304L`, `316Ti`, `A2-70`, `C110`, `CW614N`, `AW-6060`.
fn by_number(word: &str) -> Option<MaterialFamily> {
    let word = word.trim_start_matches("en").trim_start_matches('-');
    if let Some(aw) = word.strip_prefix("aw-").or_else(|| word.strip_prefix("aw")).filter(|w| !w.is_empty()) {
        return by_number(aw).filter(|f| *f == F::Aluminium);
    }
    // Bolts and nuts of ISO 3506.
    if matches!(word.split('-').next(), Some("a1" | "a2" | "a3" | "a4" | "a5")) {
        return Some(F::Stainless);
    }
    // Material numbers of EN 10027-2 and DIN 17007.
    if let Some((group, number)) = word.split_once('.')
        && number.len() >= 4
        && number.bytes().take(4).all(|b| b.is_ascii_digit())
    {
        return match group {
            "1" if number.starts_with('4') => Some(F::Stainless),
            "0" | "1" => Some(F::Steel),
            "2" if number.starts_with('4') => Some(F::Nickel),
            "2" => Some(F::Copper),
            "3" if number.starts_with('7') => Some(F::Titanium),
            "3" if number.starts_with('5') => Some(F::Magnesium),
            "3" => Some(F::Aluminium),
            _ => None,
        };
    }
    // UNS and EN numbers of copper: C11000, CW614N.
    if let Some(rest) = word.strip_prefix("cw").or_else(|| word.strip_prefix('c'))
        && rest.len() >= 3
        && rest.bytes().take(3).all(|b| b.is_ascii_digit())
    {
        return Some(F::Copper);
    }
    let digits = word.bytes().take_while(u8::is_ascii_digit).count();
    let (number, end) = word.split_at(digits);
    let temper =
        end.is_empty() || end.starts_with('-') || end.len() <= 3 && end.bytes().all(|b| b.is_ascii_alphanumeric());
    let value: u16 = number.parse().ok().filter(|_| temper)?;
    match digits {
        3 if AISI_STAINLESS.contains(&value) => Some(F::Stainless),
        4 if SAE_STEELS.contains(&value) => Some(F::Steel),
        4 if ALUMINIUM.contains(&value) => Some(F::Aluminium),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Names as EN 573-3, EN 10027-1 and -2, ISO 3506, AISI, SAE and the trade write them.
    #[test]
    fn names_of_the_trade_are_understood() {
        for (family, names) in [
            (
                F::Aluminium,
                &[
                    "EN AW-6060 T66",
                    "6082-T6",
                    "AlMgSi",
                    "AlMg3",
                    "6061-T6",
                    "2024-T3",
                    "5754 H22",
                    "3.3206",
                    "7075",
                    "aluminium",
                    "EN AW-5083",
                    "AW-6063 T6",
                    "aluminum alloy",
                    "dural",
                    "2117 aluminium",
                    "5052-H32",
                    "6061",
                ][..],
            ),
            (
                F::Stainless,
                &[
                    "1.4301",
                    "A2-70",
                    "304",
                    "316L",
                    "stainless steel A4",
                    "A4",
                    "316 stainless",
                    "corrosion-resistant steel",
                    "X5CrNi18-10",
                    "1.4571",
                    "inox",
                    "17-4 PH",
                    "stainless",
                    "316Ti",
                ],
            ),
            (
                F::Steel,
                &[
                    "S235",
                    "S235JR",
                    "S355J2",
                    "4130N",
                    "4130 steel",
                    "25CrMo4",
                    "E235+N",
                    "1.0038",
                    "1.7734",
                    "4140",
                    "mild steel",
                    "cadmium-plated steel",
                    "galvanised carbon steel",
                    "steel, class 8.8",
                    "C45",
                    "DC01",
                ],
            ),
            (F::Copper, &["CDA 110", "CuNi10Fe1Mn", "CuZn39Pb3", "bronze", "brass", "C110", "CW614N", "copper tinned"]),
            (F::Nickel, &["monel", "nickel-copper alloy", "2.4360"]),
            (F::Titanium, &["Ti-6Al-4V", "3.7165", "titanium grade 5"]),
            (F::Wood, &["birch plywood", "Sitka spruce", "oak", "okoume", "Douglas fir", "ash"]),
            (F::Plastic, &["UHMW polyethylene", "nylon", "PA6", "POM", "PTFE", "acetal", "PVC", "coated vinyl"]),
            (F::Textile, &["coated polyester", "polyester", "cotton canvas", "leather"]),
            (F::Composite, &["glass fibre", "GRP", "carbon fibre", "fibreglass"]),
            (F::Rubber, &["rubber", "steel-reinforced rubber", "EPDM"]),
        ] {
            for name in names {
                assert_eq!(material_family(name), Some(family), "{name}");
            }
        }
        for name in ["", "mystery", "unobtainium", "T-1", "class 9", "see drawing", "6061x-T6", "6601-T6", "9999"] {
            assert_eq!(material_family(name), None, "{name}");
        }
    }
}
