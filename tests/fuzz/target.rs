//! What is fed: each reader of the program, and all of them together.

use std::sync::Arc;

use kitwright::change::Release;
use kitwright::compile;
use kitwright::diag::{Colour, Diagnostics, Format, Sink, render};
use kitwright::figure::{Drawing, drawing, grey_raster, greyed, inline_svg, probe, small};
use kitwright::source::{Memory, SourceMap};
use kitwright::syntax::{parse_csv, parse_step_file, parse_workbook, parse_yaml, utf8_or_report};
use kitwright::units::FigureName;

use crate::change;
use crate::dice::Dice;

#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Target {
    Svg,
    Jpeg,
    Png,
    Yaml,
    Markdown,
    Table,
    Workbook,
    Release,
    Manual,
}

impl Target {
    pub const ALL: [Self; 9] = [
        Self::Svg,
        Self::Jpeg,
        Self::Png,
        Self::Yaml,
        Self::Markdown,
        Self::Table,
        Self::Workbook,
        Self::Release,
        Self::Manual,
    ];

    pub fn name(self) -> &'static str {
        match self {
            Self::Svg => "svg",
            Self::Jpeg => "jpeg",
            Self::Png => "png",
            Self::Yaml => "yaml",
            Self::Markdown => "markdown",
            Self::Table => "table",
            Self::Workbook => "workbook",
            Self::Release => "release",
            Self::Manual => "manual",
        }
    }

    /// The folder of its corpus below `corpus`. A manual is damaged in its step.
    pub fn corpus(self) -> &'static str {
        match self {
            Self::Manual => "markdown",
            Self::Release => "../../changes",
            other => other.name(),
        }
    }

    fn words(self) -> &'static [&'static str] {
        match self {
            Self::Svg => &[
                "<g>",
                "</g>",
                "<use href=\"#s\"/>",
                "url(#p)",
                "<rect width=\"9\" height=\"9\" fill=\"url(#p)\"/>",
                "transform=\"scale(1e9)\"",
                "<text>",
                "<tspan>",
                "filter=\"url(#f)\"",
                "mask=\"url(#k)\"",
                "<style>",
                "</style>",
                "g g g{fill:red}",
                "stroke-dasharray=\"1e-9\"",
                "viewBox=\"0 0 1e-9 1e9\"",
                "<![CDATA[",
                "]]>",
                "<!--",
                "-->",
                "&#x202E;",
                "&amp;",
                "xmlns:a=\"u\"",
                "M0 0L9 9",
                "A1e9 1 0 1 1 0 0",
                "<image ",
                "font-size=\"1e9\"",
                "letter-spacing=\"-9\"",
                "textLength=\"9\"",
                "<textPath href=\"#s\">",
                "stroke-width=\"1e9\"",
                "clip-path=\"url(#c)\"",
            ],
            Self::Jpeg => &["\u{0}", "\u{7F}", "JFIF\0", "Exif\0\0MM\0*", "ICC_PROFILE\0\u{1}\u{1}", "Adobe"],
            Self::Png => &["PLTE", "tRNS", "IDAT", "IEND", "iCCP", "acTL", "\0\0\0\0"],
            Self::Yaml | Self::Markdown | Self::Manual => &[
                "- ",
                "[",
                "]",
                "{",
                "}",
                ": ",
                "\n  ",
                "&a ",
                "*a",
                "!!str ",
                "|\n",
                ">\n",
                "---\n",
                "\"",
                "'",
                "#",
                "? ",
                "> ",
                "1. ",
                "* ",
                "**",
                "`",
                "<!-- only: ONE -->",
                "<!-- end only -->",
                "[x](part:T-2)",
                "| a | b |\n|--|--|\n",
                "[^1]",
                "not ",
                "(",
                " and ",
                "serial 1..9",
                "<b>",
                "&#x202E;",
                "```\n",
                "    ",
                "> **WARNING** ",
                "figure:",
                "hand: right\n",
                "only: not not ONE\n",
                "1e9",
                "2 x ",
                "opposite: yes\n",
                "\\",
                "~",
                "![](a)",
            ],
            Self::Table | Self::Workbook => &[
                ",",
                ";",
                "\t",
                "\"",
                "\"\"",
                "\n",
                "\r\n",
                "number",
                "name",
                "=1+1",
                "#REF!",
                "1/0",
                "1,5",
                "1.000",
                "<c r=\"ZZ1\">",
                "<row r=\"9\">",
                "<f>",
                "<v>",
                "t=\"s\"",
                "ref=\"A1:XFD1048576\"",
            ],
            Self::Release => {
                &["\n\n", " = ", " - ", "sha256", "%00", "{\"a\": 1}", "[1]", "schema: ", "configuration ", "\n"]
            }
        }
    }

    /// An input from the corpus, damaged.
    pub fn damaged(self, corpus: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
        let input = dice.pick(corpus);
        if self == Self::Workbook && dice.percent(80) {
            return change::inside_archive(input, self.words(), dice).unwrap_or_default();
        }
        let mut out = change::bytes(input, corpus, self.words(), dice);
        if self == Self::Png && dice.percent(80) {
            change::right_sums(&mut out);
        }
        out
    }

    /// Feeds an input; says whether it was taken.
    pub fn run(self, input: &[u8]) -> bool {
        match self {
            Self::Svg => picture("a.svg", input),
            Self::Jpeg => picture("a.jpg", input),
            Self::Png => picture("a.png", input),
            Self::Yaml => read(|sources, sink| {
                let text = utf8_or_report("a.yaml", input, sink)?;
                let file = sources.add("a.yaml", text.as_str());
                parse_yaml(file, &text, 0, sink).map(|_| ())
            }),
            Self::Markdown => read(|sources, sink| {
                let text = utf8_or_report("a.md", input, sink)?;
                let file = sources.add("a.md", text);
                parse_step_file(file, sources, sink).front.map(|_| ())
            }),
            Self::Table => read(|sources, sink| parse_csv("a.csv", input, sources, sink).map(|_| ())),
            Self::Workbook => {
                read(|sources, sink| (!parse_workbook("a.xlsx", input, sources, sink).is_empty()).then_some(()))
            }
            Self::Release => {
                let text = String::from_utf8_lossy(input);
                Release::read_whole(&text).is_ok()
                    && Release::read(&text).is_ok_and(|release| {
                        // What is read is written the same again, or it was not what is written.
                        Release::read(&release.text()).is_ok()
                    })
            }
            Self::Manual => manual(input),
        }
    }
}

/// Reads, and shows what was found.
fn read(reader: impl FnOnce(&mut SourceMap, &mut Sink) -> Option<()>) -> bool {
    let (mut sources, mut sink) = (SourceMap::new(), Sink::new());
    let taken = reader(&mut sources, &mut sink).is_some() && sink.is_empty();
    shown(&Diagnostics::collect(sink, &sources), &sources);
    taken
}

fn shown(found: &Diagnostics, sources: &SourceMap) {
    for format in [Format::Full, Format::Lines, Format::Json] {
        assert!(!render(found, sources, format, Colour::Off).is_empty());
    }
}

/// A picture through its whole life. What was taken can be drawn, made grey and taken again.
fn picture(name: &str, input: &[u8]) -> bool {
    let name = FigureName::new(name);
    let Ok(file) = probe(&name, Arc::from(input)) else { return false };
    let again = probe(&name, file.bytes.clone()).expect("what was cleaned is taken");
    assert_eq!((again.width, again.height), (file.width, file.height));
    assert!(again.bytes == file.bytes, "what was cleaned is clean");
    match drawing(&file).expect("what was taken can be drawn") {
        Drawing::Vector(vector) => drop(greyed(&vector)),
        Drawing::Raster(raster) => {
            grey_raster(&raster).expect("what was taken can be made grey");
            outside_reads(&file.bytes);
        }
    }
    let _ = (small(&file), inline_svg(&file, "p-"), file.mirrored(name), file.lettering());
    true
}

/// The image crate, a general-purpose library, reads what was taken.
fn outside_reads(bytes: &[u8]) {
    let read = image::load_from_memory(bytes);
    assert!(read.is_ok(), "{:?}", read.err());
}

const SETTINGS: &str = "title: Trolley\nmaker: Nobody\nnumber: T-1\nvariants:\n  ONE: { title: One }\n  TWO: { title: Two }\n\
    options:\n  brake: { title: Brake }\nconfigurations: [ONE, ONE+brake, TWO]\nsections:\n  - { section: frame, title: Frame }\n\
    tools:\n  spanner: Spanner\ndatums:\n  keel: The keel\n";
const PARTS: &str = "number,name,weight,hand,opposite,ONE,TWO\n0104,Plate,0.4 lb,,,1,1\nT-2,Rail,,left,T-3,2,2\nT-3,Rail,,right,T-2,2,2\n";
const HARDWARE: &str = "designation,name,kind,unit\nAN3-5A,Bolt,bolt,each\nAN365-1032A,Nut,nut,each\n";

/// A small manual with a damaged step, through all checks.
fn manual(step: &[u8]) -> bool {
    let mut files = Memory::new();
    files.insert("manual.yaml", SETTINGS);
    files.insert("parts.csv", PARTS);
    files.insert("hardware.csv", HARDWARE);
    files.insert("steps/frame/10-rail.md", step);
    files.insert(
        "figures/rail.svg",
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"99\" height=\"99\"><path d=\"M0 0h9v9z\"/></svg>",
    );
    let checked = compile::check(&files, &|_| {}).expect("a folder in memory can be listed");
    shown(&checked.findings, &checked.sources);
    !checked.findings.has_errors()
}
