use proptest::prelude::*;

use super::{Node, NodeKind, parse_yaml};
use crate::diag::Sink;
use crate::source::FileId;

fn read(text: &str) -> (Option<Node>, Sink) {
    let mut sink = Sink::new();
    let node = parse_yaml(FileId(0), text, 0, &mut sink);
    (node, sink)
}

/// What a fault marks and says.
fn faults(text: &str) -> Vec<(String, String)> {
    let (_, sink) = read(text);
    sink.iter().map(|d| (text[d.span.unwrap().range()].to_owned(), d.headline.clone())).collect()
}

/// The value of a top-level key and what its span marks.
fn value(text: &str, key: &str) -> (String, String) {
    let (node, sink) = read(text);
    assert!(sink.is_empty(), "{text}: {sink:?}");
    let Some(Node { kind: NodeKind::Mapping(entries), .. }) = node else { panic!("{text}") };
    let (_, node) = entries.into_iter().find(|(k, _)| k.value == key).unwrap();
    let NodeKind::Scalar { text: value, .. } = node.kind else { panic!("{text}") };
    (value, text[node.span.range()].to_owned())
}

#[test]
fn scalars_stay_as_written() {
    for written in ["0104", "23 15/16", "1.50", "yes", "0x1F", "1e3", "12:30", "AN3-5A", "é–ß", "2026-11-25"] {
        assert_eq!(value(&format!("v: {written}  # remark\r\nw: x\r\n"), "v"), (written.into(), written.into()));
    }
    assert_eq!(value("v: \"#30\"", "v"), ("#30".into(), "#30".into()));
    assert_eq!(value("v: 'it''s'", "v"), ("it's".into(), "'it''s'".into()));
    assert_eq!(value("v: \"a\\tb\"", "v"), ("a\tb".into(), "\"a\\tb\"".into()));
    // YAML 1.2.2, section 8.1: literal and folded block texts.
    assert_eq!(value("v: |\n  a\n  b\nw: x", "v").0, "a\nb\n");
    assert_eq!(value("v: >-\n  a\n  b\nw: x", "v").0, "a b");
}

#[test]
fn nothing_is_null_and_quoted_nothing_is_text() {
    for text in ["v:", "v: ~", "v: null", "v: # remark"] {
        let (node, sink) = read(text);
        assert!(sink.is_empty());
        let Some(Node { kind: NodeKind::Mapping(entries), .. }) = node else { panic!() };
        assert!(matches!(entries[0].1.kind, NodeKind::Null), "{text}");
    }
    assert_eq!(value("v: \"\"", "v").0, "");
    assert_eq!(value("v: \"null\"", "v").0, "null");
}

#[test]
fn spans_of_lists_and_mappings_end_with_their_last_entry() {
    let text = "parts:\n  - KW-1\n  - { part: KW-2, do: use }\n\n# remark\nhours: 1\n";
    let (node, _) = read(text);
    let Some(Node { kind: NodeKind::Mapping(entries), .. }) = node else { panic!() };
    assert_eq!(&text[entries[0].0.span.range()], "parts");
    assert_eq!(&text[entries[0].1.span.range()], "- KW-1\n  - { part: KW-2, do: use }");
    let NodeKind::Sequence(items) = &entries[0].1.kind else { panic!() };
    assert_eq!(&text[items[1].span.range()], "{ part: KW-2, do: use }");
}

#[test]
fn mistakes_are_told_in_plain_words_at_their_place() {
    let cases: &[(&str, &[(&str, &str)])] = &[
        ("title:Fit\nsection: frame\n", &[("title:", "a space is missing after `title:`")]),
        ("title Fit\nsection: frame\n", &[("title", "a colon is missing after `title`")]),
        ("title: a\nhours 1\nstep: x\n", &[("hours", "a colon is missing after `hours`")]),
        ("title: Fit: the foot\n", &[(":", "a text that holds a colon and a space needs quotes")]),
        ("parts:\n\t- a\n", &[("\t", "a tab stands where only spaces are read")]),
        ("parts:\n  - a\n\t- b\n", &[("\t", "a tab stands where only spaces are read")]),
        ("parts:\n  - part:KW\n    quantity: 1\n", &[("part:", "a space is missing after `part:`")]),
        ("title: \"Fit\nhours: 1\n", &[("\"Fit", "a quote is opened and never closed")]),
        ("title: \"Fit\nnote: \"x\"\n", &[("\"Fit", "a quote is opened and never closed")]),
        ("after: [a, b\nhours: 1\n", &[("[a, b", "a bracket is opened and not closed")]),
        ("parts:\n  - { part: a\nhours: 1\n", &[("{ part: a", "a bracket is opened and not closed")]),
        ("a: x]\nb: [y]]\n", &[("]", "a bracket closes that was never opened")]),
        ("a: @x\n", &[("@", "a text can't begin with `@`")]),
        ("a: *x\n", &[("*x", "nothing is marked `&x`")]),
        ("a: !Mind\n", &[("!Mind", "the mark `!Mind` has no meaning here")]),
        ("a:\n- b\n-c\n", &[("-", "a space is missing after `-`")]),
        ("a: 1\nb: 2\na: 3\n", &[("a", "the key `a` stands twice")]),
        ("drill: #30\n", &[("#30", "`#30` and what follows on this line is not read")]),
        ("title: Drill #30 holes\n", &[("#30 holes", "`#30` and what follows on this line is not read")]),
        (
            "title: Fit the foot\n  hours:1.5\n",
            &[("hours:", "a key without a space after its colon is taken for text")],
        ),
        ("a: \"x\" y\n", &[("y", "a text goes on after its closing quote")]),
        ("a: - b\n", &[("a: - b", "a list can't begin on the line of its key")]),
        ("a: 1\n---\nb: 2\n", &[("---", "a second part begins here, and only the first is read")]),
    ];
    for (text, wanted) in cases {
        let found = faults(text);
        let wanted: Vec<_> = wanted.iter().map(|&(s, h)| (s.to_owned(), h.to_owned())).collect();
        assert_eq!(found, wanted, "{text:?}");
    }
}

#[test]
fn several_faults_are_found_in_one_text() {
    let text = "title: Fit: it\nafter: [a\nhours: 1\nnote: @x\nsection: frame\n";
    let found = faults(text);
    assert_eq!(found.iter().map(|f| f.0.as_str()).collect::<Vec<_>>(), [":", "[a", "@"], "{found:?}");
}

#[test]
fn aliases_are_read_under_a_budget() {
    let (node, sink) = read("a: &x [1, 2]\nb: *x\n");
    assert!(sink.is_empty());
    let Some(Node { kind: NodeKind::Mapping(entries), .. }) = node else { panic!() };
    assert!(matches!(&entries[1].1.kind, NodeKind::Sequence(s) if s.len() == 2));

    let mut bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n".to_owned();
    for i in 1..12 {
        let row = vec![format!("*a{}", i - 1); 10].join(", ");
        bomb += &format!("a{i}: &a{i} [{row}]\n");
    }
    let found = faults(&bomb);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].1, "too much is repeated with `*`");
    assert_eq!(faults("a: &a [*a]\n")[0].1, "a list or mapping repeats itself inside itself");
}

#[test]
fn depth_is_bounded() {
    let text = format!("a: {}", "[".repeat(5000));
    assert_eq!(faults(&text)[0].1, "lists and mappings are nested too deep");
}

#[test]
fn front_matter_is_placed_in_its_file() {
    let mut sink = Sink::new();
    let node = parse_yaml(FileId(3), "a: b\n", 4, &mut sink).unwrap();
    let NodeKind::Mapping(entries) = node.kind else { panic!() };
    assert_eq!(entries[0].1.span.range(), 7..8);
    assert_eq!(entries[0].1.span.file, FileId(3));
}

fn walk(node: &Node, text: &str) {
    assert!(text.get(node.span.range()).is_some());
    match &node.kind {
        NodeKind::Sequence(nodes) => nodes.iter().for_each(|n| walk(n, text)),
        NodeKind::Mapping(entries) => {
            for (key, node) in entries {
                assert!(text.get(key.span.range()).is_some());
                walk(node, text);
            }
        }
        NodeKind::Null | NodeKind::Scalar { .. } => {}
    }
}

proptest! {
    #[test]
    fn no_text_breaks_reading(text in "([a-c]: |[-:\\[\\]{},#&*!|>'\"%@`?\\\\]|[ \t\n\r]|\\PC|é|- |---){0,60}") {
        let (node, sink) = read(&text);
        if let Some(node) = node {
            walk(&node, &text);
        } else {
            prop_assert!(!sink.is_empty());
        }
        for d in sink {
            prop_assert!(text.get(d.span.unwrap().range()).is_some(), "{d:?}");
        }
    }
}
