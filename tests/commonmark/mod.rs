//! CommonMark's own examples through our reader, as far as our subset goes.
//!
//! What is outside the subset is refused with a finding, never read as something else: raw HTML, pictures in the text.
//! Titles of links and the language of a code block are read over. The tree does not keep whether a list is tight, nor
//! how a destination was escaped, so both sides are compared without `<p>` and with escapes undone.

#[path = "../../src/syntax/markdown/plain_html.rs"]
mod plain_html;

use std::collections::BTreeMap;

use kitwright::source::SourceMap;
use kitwright::syntax::markdown::*;

use crate::outside;

/// Why an example does not apply, by what our reader says of it or by what its HTML has that the tree leaves out.
fn outside_subset(rules: &[&str], html: &str) -> Option<&'static str> {
    if rules.contains(&"html-in-text") {
        Some("raw HTML is refused")
    } else if rules.contains(&"picture-in-text") {
        Some("pictures stand in the front matter")
    } else if html.contains("<!--") {
        Some("comments are not shown")
    } else if html.contains(" title=") {
        Some("titles of links are not kept")
    } else if html.contains("class=\"language") {
        Some("languages of code are not kept")
    } else {
        None
    }
}

#[test]
fn examples_of_the_specification_hold() {
    let check = "CommonMark's examples";
    let Some(node) = outside::program("node", check) else { return };
    if outside::node_modules(check).is_none() {
        return;
    }
    let examples = outside::run(&mut outside::script(&node, "examples.cjs"));
    let examples: Vec<serde_json::Value> = serde_json::from_str(&examples).expect("JSON");
    let (mut held, mut left_out, mut failed) = (0, BTreeMap::new(), Vec::new());
    for example in &examples {
        // The specification shows tabs as arrows.
        let text = |key: &str| example[key].as_str().expect("text").replace('→', "\t");
        let (markdown, html) = (text("markdown"), text("html"));
        let mut sources = SourceMap::new();
        let file = sources.add("example.md", markdown.clone());
        let mut sink = Vec::new();
        let blocks = parse_markdown(file, &markdown, 0, &mut sink);
        let rules: Vec<&str> = sink.iter().map(|d| d.rule).collect();
        if let Some(why) = outside_subset(&rules, &html) {
            *left_out.entry(why).or_insert(0) += 1;
            continue;
        }
        let (found, wanted) = (plainer(&plain_html::render(&blocks)), plainer(&html));
        if found == wanted {
            held += 1;
        } else {
            let number = &example["number"];
            failed.push(format!("{number} {rules:?}\n{markdown}\n-- wanted\n{wanted}\n-- found\n{found}\n"));
        }
    }
    assert!(failed.is_empty(), "{} of {} differ\n{}", failed.len(), examples.len(), failed.join("\n"));
    // Counted, so that the subset can't shrink unseen: CommonMark 0.31.2 has 652 examples.
    assert_eq!(examples.len(), 652);
    assert_eq!(
        left_out.iter().map(|(why, n)| (*why, *n)).collect::<Vec<_>>(),
        [
            ("comments are not shown", 7),
            ("languages of code are not kept", 6),
            ("pictures stand in the front matter", 22),
            ("raw HTML is refused", 65),
            ("titles of links are not kept", 30),
        ],
        "{held} hold"
    );
    assert_eq!(held, 522);
}

/// HTML without what the tree leaves open: whether a list is tight, white space between blocks, escapes.
fn plainer(html: &str) -> String {
    let mut text = html.replace("<p>", "").replace("</p>", "").replace("href=\"mailto:", "href=\"");
    for (entity, sign) in [("&quot;", "\""), ("&amp;", "&")] {
        text = text.replace(entity, sign);
    }
    let text = percent_decoded(&text);
    text.split_whitespace().collect::<Vec<_>>().join(" ").replace("> ", ">").replace(" <", "<")
}

fn percent_decoded(text: &str) -> String {
    let bytes = text.as_bytes();
    let (mut out, mut at) = (Vec::with_capacity(bytes.len()), 0);
    while at < bytes.len() {
        let code = (bytes[at] == b'%').then(|| text.get(at + 1..at + 3)).flatten();
        match code.and_then(|c| u8::from_str_radix(c, 16).ok()) {
            Some(byte) => {
                out.push(byte);
                at += 3;
            }
            None => {
                out.push(bytes[at]);
                at += 1;
            }
        }
    }
    String::from_utf8_lossy(&out).into_owned()
}

#[test]
fn escapes_are_undone() {
    assert_eq!(percent_decoded("a%20b%C3%A4%zz%"), "a bä%zz%");
}
