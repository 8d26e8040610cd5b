//! Whole pages: what is on them, what leads where, what is refused.

use std::collections::BTreeMap;

use super::sample::{block, document, figures, leaf, measures, paragraph, text};
use super::{Templates, write};
use crate::document::{Anchor, Bench, BlockKind, Document, Inline, LeafRole, ListItem};
use crate::emit::EmitError;
use crate::source::{Collected, Output};

type Pages = BTreeMap<String, String>;

fn emit(document: &Document, own: &[(&str, &str)]) -> Result<Pages, EmitError> {
    let own = own.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    let out = Collected::new();
    write(document, &Bench::default(), &figures(), &Templates::new(&own)?, &out, "manual/")?;
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    Ok(out.into_files().into_iter().map(|(path, bytes)| (path.replace("manual/", ""), text(bytes))).collect())
}

fn pages() -> Pages {
    emit(&document(), &[]).expect("the sample is sound")
}

#[test]
fn writes_a_page_a_leaf_and_what_they_need() {
    let pages = pages();
    let names: Vec<&str> = pages.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            "data.js",
            "figures/mast-foot.svg",
            "index.html",
            "lines.js",
            "manual.js",
            "page-card.html",
            "page-contents.html",
            "page-frame.html",
            "page-parts.html",
            "page-results.html",
            "page-safety.html",
            "page-steering.html",
            "step-deburr.html",
            "step-mast-foot.html",
            "style.css",
        ]
    );
    // A list of lines for each page, in the order of `data.js`.
    let json = |name: &str, start: &str| -> serde_json::Value {
        let text = pages[name].strip_prefix(start).and_then(|text| text.strip_suffix(";\n"));
        serde_json::from_str(text.expect("one assignment")).expect("JSON")
    };
    let (data, lines) = (json("data.js", "window.kitwright = "), json("lines.js", "window.kitwrightLines = "));
    assert_eq!(data["pages"].as_array().map(Vec::len), lines.as_array().map(Vec::len));
    assert!(!pages["lines.js"].contains('<') && lines.to_string().contains("Makes: Mast foot assembly"), "{lines}");
}

/// Every `href` and `src` of a page.
fn targets(page: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for attribute in [" href=\"", " src=\""] {
        for (at, _) in page.match_indices(attribute) {
            let rest = &page[at + attribute.len()..];
            found.push(&rest[..rest.find('"').expect("a closed attribute")]);
        }
    }
    found
}

#[test]
fn every_link_leads_to_a_file_and_an_id_that_exist_once() {
    let pages = pages();
    for (name, page) in pages.iter().filter(|(name, _)| name.ends_with(".html")) {
        for target in targets(page).into_iter().filter(|target| !target.contains(':')) {
            let (file, id) = target.split_once('#').unwrap_or((target, ""));
            let file = if file.is_empty() { name } else { file };
            let there = pages.get(file).unwrap_or_else(|| panic!("{name} leads to {file}"));
            if !id.is_empty() {
                assert_eq!(there.matches(&format!(" id=\"{id}\"")).count(), 1, "{name} leads to {target}");
            }
        }
    }
}

#[test]
fn a_mark_and_its_row_lead_to_each_other() {
    let page = &pages()["step-mast-foot.html"];
    assert!(page.contains(r##"id="_mark-1-1" href="#pull-KW-103-L" style="left:30.00%;top:42.00%""##));
    assert!(page.contains(r##"<a class="mark" href="#_mark-1-1">1</a>"##));
    // A row that shows no number of its own gets its way back; a mark without a row leads to its line.
    assert!(page.contains(r##"<span class="whole">AN4-15A</span> <a class="mark" href="#_mark-1-3" data-number="3""##));
    assert!(page.contains(r##"id="_mark-1-4" href="#_line-1-4""##));
    assert!(page.contains(r##"<li id="_line-1-4"><a class="mark" href="#_mark-1-4">4</a> Keep this edge flush</li>"##));
}

#[test]
fn each_page_has_one_first_heading_and_leaves_no_level_out() {
    for (name, page) in pages().iter().filter(|(name, _)| name.ends_with(".html")) {
        let levels: Vec<u8> = page
            .match_indices("<h")
            .filter_map(|(at, _)| page.as_bytes().get(at + 2).filter(|b| b.is_ascii_digit()).map(|b| b - b'0'))
            .collect();
        assert_eq!(levels.iter().filter(|level| **level == 1).count(), 1, "{name}");
        assert_eq!(levels[0], 1, "{name}");
        assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{name}: {levels:?}");
    }
}

#[test]
fn the_words_of_a_value_and_a_hand_are_on_the_page() {
    let page = &pages()["step-mast-foot.html"];
    assert!(page.contains(
        r#"<span class="value" data-inches="383/16">23 <span class="fraction"><sup>15</sup>/<sub>16</sub></span> in (608"#
    ));
    assert!(page.contains("</svg>left</span>"));
    assert!(page.contains("</svg>WARNING</p>"));
}

#[test]
fn text_of_the_author_never_becomes_markup() {
    let pages = pages();
    assert!(pages["step-deburr.html"].contains("Deburr &amp; wipe &lt;both&gt; ends."));
    assert!(pages["page-safety.html"].contains("AN960-10 8  &lt;each&gt;"));
    assert!(!pages["page-safety.html"].contains("javascript:"));
    let mut document = document();
    document.meta.configuration_title = "<script>alert(1)</script>".into();
    document.leaves[2].title = text("\"><script>");
    let page = &emit(&document, &[]).expect("sound")["page-safety.html"];
    assert_eq!(page.matches("<script").count(), 1, "only the page's own script");
}

#[test]
fn a_manual_changes_one_component_and_keeps_the_rest() {
    let own = "{% component paragraph(id, of: map) %}<p class=\"ours\">{{ <sign /> }} {{ of.text }}</p>{% endcomponent paragraph %}";
    let part = "{% component sign() %}!{% endcomponent sign %}";
    let pages = emit(&document(), &[("a.html", own), ("more.css", "p{color:teal}"), ("z.html", part)]).expect("sound");
    assert!(pages["step-deburr.html"].contains("<p class=\"ours\">! Deburr &amp; wipe"));
    assert!(pages["step-mast-foot.html"].contains("safety-warning"));
    assert!(pages["style.css"].ends_with("p{color:teal}"));
}

#[test]
fn a_template_that_cannot_be_used_is_named() {
    let broken = emit(&document(), &[("page.html", "{% if %}")]).expect_err("broken").to_string();
    assert!(broken.starts_with("a template") && broken.contains("page.html:1:7"), "{broken}");
    let missing = emit(&document(), &[("page.html", "{{ leaf.nmae }}")]).expect_err("unknown value").to_string();
    assert!(missing.contains("nmae"), "{missing}");
    let unknown = emit(&document(), &[("stile.css", "")]).expect_err("unread").to_string();
    assert!(unknown.contains("`style.css`"), "{unknown}");
    // The engine is kept off the disk: a file that exists can't be reached.
    let outside = emit(&document(), &[("page.html", "{% include \"/etc/hostname\" %}")]).expect_err("outside");
    assert!(outside.to_string().contains("/etc/hostname"), "{outside}");
}

#[test]
fn what_would_be_silently_wrong_is_refused() {
    let mut broken = document();
    broken.leaves[2].blocks.push(block(BlockKind::Paragraph(vec![Inline::Link {
        to: Anchor::new("step", "gone"),
        content: text("there"),
    }])));
    assert!(matches!(emit(&broken, &[]), Err(EmitError::BrokenLink { to, .. }) if to.as_str() == "step-gone"));

    let mut twice = document();
    twice.leaves.push(leaf(LeafRole::Text, "safety", None, "Again", Vec::new()));
    assert!(matches!(emit(&twice, &[]), Err(EmitError::DuplicateAnchor(_))));

    let templates = Templates::built_in();
    let without = write(&document(), &Bench::default(), &BTreeMap::new(), &templates, &Collected::new(), "");
    assert!(matches!(without, Err(EmitError::MissingFigure(_))));

    let mut deep = document();
    let nest = |inner| block(BlockKind::Quote(vec![inner]));
    deep.leaves[2].blocks.push((0..5000).fold(paragraph("deep"), |inner, _| nest(inner)));
    assert!(matches!(emit(&deep, &[]), Err(EmitError::TooDeep { .. })));
    std::mem::forget(deep);

    struct Full;
    impl Output for Full {
        fn write(&self, _: &str, _: &[u8]) -> std::io::Result<()> {
            Err(std::io::ErrorKind::StorageFull.into())
        }
    }
    let full = write(&document(), &Bench::default(), &figures(), &templates, &Full, "out/");
    assert!(matches!(full, Err(EmitError::Write { path, .. }) if path == "out/index.html"));
}

#[test]
fn lists_may_stand_eight_deep() {
    let mut document = document();
    let nest = |inner| {
        block(BlockKind::List {
            ordered: None,
            items: vec![ListItem { tick: false, blocks: vec![paragraph("a"), inner] }],
        })
    };
    document.leaves[2].blocks.push((0..8).fold(measures(), |inner, _| nest(inner)));
    assert!(emit(&document, &[]).expect("sound")["page-safety.html"].contains("Gap between"));
}

#[test]
fn pages_open_from_disk_with_scripts_of_old() {
    // From disk browsers refuse module scripts and `fetch`; the script keeps to ECMAScript 5.
    let pages = pages();
    for (name, page) in pages.iter().filter(|(name, _)| name.ends_with(".html")) {
        assert!(
            !page.contains("type=\"module\"") && !page.contains("src=\"http") && !page.contains("crossorigin"),
            "{name}"
        );
        assert!(!page.contains("href=\"http"), "{name} leads only where the author says");
    }
    let script = &pages["manual.js"];
    for newer in ["=>", "let ", "const ", "`", "fetch(", "import ", "class ", "async "] {
        assert!(
            !script.lines().filter(|line| !line.trim().starts_with("//")).any(|line| line.contains(newer)),
            "{newer}"
        );
    }
    assert!(!pages["style.css"].contains("url(") && !pages["style.css"].contains("@import"));
}

#[test]
fn threads_never_show_in_the_bytes() {
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
        pool.install(pages)
    };
    assert_eq!(with(1), with(4));
}

/// Checks the markup from outside: with `KITWRIGHT_SAMPLE=FOLDER` the pages are written there for the scripts
/// under `tests/oracles`.
#[test]
fn a_page_without_figures_is_small() {
    let pages = pages();
    if let Ok(folder) = std::env::var("KITWRIGHT_SAMPLE") {
        for (name, page) in &pages {
            let path = std::path::Path::new(&folder).join(name);
            std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder that can be made");
            std::fs::write(path, page).expect("a folder that can be written");
        }
    }
    for (name, page) in pages.iter().filter(|(name, _)| name.ends_with(".html")) {
        assert!(page.len() < 60_000, "{name} has {} bytes", page.len());
    }
}

/// A page as large as no page is, from a small template, and a template as large as none is.
#[test]
fn templates_and_their_pages_have_limits() {
    let rows = format!("{{% for i in range(end=90000) %}}{}{{% endfor %}}", "x".repeat(1_000));
    for (own, said) in [(rows, "a page has more than 64 MB"), ("x".repeat(5 << 20), "page.html has more than 4 MB")] {
        let refused = emit(&document(), &[("page.html", &own)]);
        assert!(matches!(&refused, Err(EmitError::Template { words }) if words.contains(said)), "{refused:?}");
    }
}
