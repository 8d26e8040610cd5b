use proptest::prelude::*;

use super::plain_html::render;
use super::{MdBlock, MdBlockKind, MdInline, MdInlineKind, each_block, each_inline, parse_markdown};
use crate::diag::Sink;
use crate::source::FileId;
use crate::syntax::Condition;

fn read(text: &str) -> (Vec<MdBlock>, Sink) {
    let mut sink = Sink::new();
    let blocks = parse_markdown(FileId(0), text, 0, &mut sink);
    (blocks, sink)
}

/// What the faults of a text mark and say.
fn faults(text: &str) -> Vec<(String, String)> {
    let mark = |d: &crate::diag::Diagnostic| text[d.span.unwrap().range()].to_owned();
    read(text).1.iter().map(|d| (mark(d), d.headline.clone())).collect()
}

fn clean(text: &str) -> Vec<MdBlock> {
    let (blocks, sink) = read(text);
    assert!(sink.is_empty(), "{text}: {sink:?}");
    blocks
}

/// Every link of a text: its destination and what its span marks.
fn links(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    see_inlines(&clean(text), &mut |inline| {
        if let MdInlineKind::Link { to, .. } = &inline.kind {
            found.push((to.value.clone(), text[to.span.range()].to_owned()));
        }
    });
    found
}

fn see_inlines(blocks: &[MdBlock], see: &mut dyn FnMut(&MdInline)) {
    each_block(blocks, &mut |block| block.runs().for_each(|run| each_inline(run, see)));
}

#[test]
fn destinations_have_their_own_place() {
    for (text, to, marked) in [
        ("[mast foot](part:KW-103-L)", "part:KW-103-L", "part:KW-103-L"),
        ("a [](hardware:AN4-15A) b", "hardware:AN4-15A", "hardware:AN4-15A"),
        ("[](<hardware:ISO 4017 M6x20 A4>)", "hardware:ISO 4017 M6x20 A4", "hardware:ISO 4017 M6x20 A4"),
        ("[a *b* `c](`](  step:x  )", "step:x", "step:x"),
        ("[a \\](b)](step:x)", "step:x", "step:x"),
        ("[a](part:X(1) \"title\")", "part:X(1)", "part:X(1)"),
        ("[é]\n\n[É]: <tool:drill 30>", "tool:drill 30", "tool:drill 30"),
        ("**[x](part:A\\_B)**", "part:A_B", "part:A\\_B"),
        ("<https://example.org/a>", "https://example.org/a", "https://example.org/a"),
        ("| a |\n|---|\n| [](part:A) |", "part:A", "part:A"),
        ("> - [x](part:A)", "part:A", "part:A"),
    ] {
        assert_eq!(links(text), [(to.to_owned(), marked.to_owned())], "{text}");
    }
}

#[test]
fn offsets_count_from_the_file() {
    let mut sink = Sink::new();
    let blocks = parse_markdown(FileId(0), "Text\n\n<b>x</b>\n", 100, &mut sink);
    assert_eq!(blocks[0].span.range(), 100..104);
    assert_eq!(sink[0].span.unwrap().start, 106);
}

#[test]
fn conditions_hold_blocks_and_split_lists() {
    let text = "1. First\n<!-- only: ICE and brake -->\n2. Second\n<!-- end only -->\n3. Third\n";
    let blocks = clean(text);
    assert_eq!(blocks.len(), 3);
    let MdBlockKind::Only { condition, condition_span, blocks: inner } = &blocks[1].kind else { panic!() };
    assert_eq!(&text[condition_span.range()], "ICE and brake");
    assert!(matches!(condition, Condition::And(_)));
    assert!(matches!(inner[0].kind, MdBlockKind::List { ordered: Some(2), .. }));
    assert_eq!(&text[blocks[1].span.range()], "<!-- only: ICE and brake -->\n2. Second\n<!-- end only -->");

    let text =
        "- A\n  <!-- only: ICE -->\n  B\n  <!-- only: brake -->\n  C\n  <!-- end only -->\n  <!-- end only -->\n- D\n";
    let blocks = clean(text);
    let MdBlockKind::List { items, .. } = &blocks[0].kind else { panic!() };
    let MdBlockKind::Only { blocks: inner, .. } = &items[0].blocks[1].kind else { panic!() };
    let MdBlockKind::Only { condition: Condition::Name(name), .. } = &inner[1].kind else { panic!() };
    assert_eq!((name.value.as_str(), &text[name.span.range()]), ("brake", "brake"));

    let blocks = clean("> a\n>\n> <!-- only: ICE -->\n> b\n> <!-- end only -->\n");
    let MdBlockKind::Quote(inner) = &blocks[0].kind else { panic!() };
    assert!(matches!(inner[1].kind, MdBlockKind::Only { .. }));
}

#[test]
fn marks_that_have_no_effect_are_told() {
    for (text, marked, headline) in [
        ("<!-- only: A -->\nx\n", "<!-- only: A -->", "a condition is opened and not closed"),
        ("x\n\n<!-- end only -->\n", "<!-- end only -->", "a condition ends here that was never opened"),
        ("a <!-- only: A --> b\n", "<!-- only: A -->", "a condition must stand alone on its line"),
        ("<!-- only: A --> b\n", "<!-- only: A --> b", "a condition must stand alone on its line"),
        ("<!-- only A -->\n", "<!-- only A -->", "this remark looks like a condition and is not read as one"),
        ("| a |\n|---|\n| <!-- only: A --> |\n", "<!-- only: A -->", "a condition stands inside a table"),
        ("a\n\n    <!-- only: A -->\n", "<!-- only: A -->", "a condition or remark is shown as code and has no effect"),
        ("<!-- only: A, B -->\nx\n\n<!-- end only -->\n", ",", "a comma in a condition can mean `and` or `or`"),
        ("<!-- only: -->\nx\n\n<!-- end only -->\n", "", "the condition is empty"),
    ] {
        assert_eq!(faults(text), [(marked.to_owned(), headline.to_owned())], "{text}");
    }
    let torn = "| a |\n|---|\n| b |\n<!-- only: A -->\n| c |\n<!-- end only -->\n| d |\n";
    let found = faults(torn);
    assert_eq!(found[0], ("<!-- only: A -->".to_owned(), "a condition stands inside a table".to_owned()));
    assert_eq!(found.len(), 2, "{found:?}");
    clean(
        "| a |\n|---|\n| b |\n\n<!-- only: A -->\n\n| c |\n|---|\n| d |\n\n<!-- end only -->\n\n<!-- ask the shop -->\n",
    );
}

#[test]
fn safety_messages_are_found() {
    for text in [
        "> **WARNING** A strut strikes.\n> Tie it down.\n",
        "> **WARNING:** A strut strikes.\n> Tie it down.\n",
        "> **Warning**: A strut strikes.\n> Tie it down.\n",
        "> **WARNING**\n> A strut strikes.\n> Tie it down.\n",
        "> **WARNING**\n>\n> A strut strikes.\n> Tie it down.\n",
    ] {
        let blocks = clean(text);
        let MdBlockKind::Safety { word, blocks } = &blocks[0].kind else { panic!("{text}") };
        assert_eq!(word.value, "WARNING");
        assert_eq!(text[word.span.range()].to_uppercase(), "WARNING");
        assert_eq!(render(blocks), "<p>A strut strikes.\nTie it down.</p>\n", "{text}");
    }
    let blocks = clean("> **NOTE: keep it dry.** Always.\n");
    let MdBlockKind::Safety { blocks, .. } = &blocks[0].kind else { panic!() };
    assert_eq!(render(blocks), "<p><strong>keep it dry.</strong> Always.</p>\n");
    assert!(matches!(clean("> Only a quote.\n")[0].kind, MdBlockKind::Quote(_)));
}

#[test]
fn what_was_meant_as_a_safety_message_is_told() {
    for (text, marked, headline) in [
        ("> WARNING Hot.\n", "WARNING Hot.", "this safety message is not read as one: `WARNING`"),
        ("> **WARING** Hot.\n", "**WARING**", "this safety message is not read as one: `WARING`"),
        ("> [!WARNING]\n> Hot.\n", "[!WARNING]", "this safety message is not read as one: `WARNING`"),
        ("> *Caution* Hot.\n", "*Caution*", "this safety message is not read as one: `Caution`"),
        ("**DANGER** Hot.\n", "DANGER", "`DANGER` stands outside a safety message"),
        ("- **DANGER** Hot.\n", "DANGER", "`DANGER` stands outside a safety message"),
        ("> **DANGER** Hot.\nGo on.\n", "Go on.", "this line is taken into the safety message above it"),
        ("> **DANGER** Hot.\n> **NOTE** Wet.\n", "NOTE", "`NOTE` stands inside another safety message"),
        ("> **DANGER** Hot.\n>\n> **NOTE** Wet.\n", "NOTE", "`NOTE` stands inside another safety message"),
        (
            "> <!-- only: A -->\n> **DANGER** Hot.\n> <!-- end only -->\n",
            "DANGER",
            "this safety message is not read as one: `DANGER`",
        ),
    ] {
        assert_eq!(faults(text), [(marked.to_owned(), headline.to_owned())], "{text}");
    }
}

#[test]
fn what_is_not_carried_is_told() {
    for (text, marked, headline) in [
        ("a <b>c</b>\n", "<b>", "HTML is not carried into the documents"),
        ("</div>\nx\n", "</div>\nx", "HTML is not carried into the documents"),
        ("  <div>\nx\n", "<div>\nx", "HTML is not carried into the documents"),
        ("a </b> c\n", "</b>", "HTML is not carried into the documents"),
        ("<div>\nx\n</div>\n", "<div>\nx\n</div>", "HTML is not carried into the documents"),
        ("a ![b](c.png) d\n", "![b](c.png)", "a picture stands in the text and is not shown"),
        ("a[^1]\n", "[^1]", "the footnote `1` has no text"),
        ("a\n\n[^1]: b\n", "[^1]: b", "the footnote `1` is marked nowhere"),
        ("see [](part:KW 1) now\n", "[](part:KW 1)", "this link is not read and would be shown as it stands"),
        ("Do this:\n2. that\n", "2.", "this line is read as part of the paragraph above"),
        ("a\n\n    b\n", "b", "these lines are shown as code"),
    ] {
        assert_eq!(faults(text), [(marked.to_owned(), headline.to_owned())], "{text}");
    }
    clean("a[^n] b\n\n[^n]: c\n\n\\[x\\](y)\n\n[ ] plain [brackets]\n");
}

#[test]
fn task_lists_are_read_tight_and_loose() {
    for text in ["- [ ] a\n- [x] b\n", "- [ ] a\n\n- [x] b\n"] {
        let blocks = clean(text);
        let MdBlockKind::List { items, .. } = &blocks[0].kind else { panic!() };
        assert_eq!(items.iter().map(|i| i.task).collect::<Vec<_>>(), [Some(false), Some(true)]);
        assert_eq!(render(&items[1].blocks), "<p>b</p>\n");
    }
}

#[test]
fn depth_is_bounded() {
    for text in [">".repeat(20_000) + "a", "- ".repeat(5_000) + "a", "_a *b ".repeat(2_000) + &"c* d_ ".repeat(2_000)] {
        let text = &text;
        assert!(read(text).1.iter().any(|d| d.rule == "text-too-deep"), "{}", &text[..20]);
    }
}

fn check_spans(text: &str, blocks: &[MdBlock]) {
    for block in blocks {
        assert!(text.get(block.span.range()).is_some());
        match &block.kind {
            MdBlockKind::List { items, .. } => {
                for item in items {
                    assert!(text.get(item.span.range()).is_some());
                    check_spans(text, &item.blocks);
                }
            }
            MdBlockKind::Quote(b)
            | MdBlockKind::Safety { blocks: b, .. }
            | MdBlockKind::FootnoteDefinition { blocks: b, .. }
            | MdBlockKind::Only { blocks: b, .. } => check_spans(text, b),
            _ => {}
        }
    }
    see_inlines(blocks, &mut |inline| {
        assert!(text.get(inline.span.range()).is_some(), "{inline:?}");
        if let MdInlineKind::Link { to, .. } = &inline.kind {
            assert!(text.get(to.span.range()).is_some(), "{inline:?}");
        }
    });
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(ProptestConfig::default().cases.max(400)))]
    #[test]
    fn no_text_breaks_reading(text in "(<!-- only: A -->\n|<!-- end only -->\n|<!--|-->|<b>|> |- |1\\. |\\*\\*WARNING\\*\\*|\\*\\*|[*_`\\[\\]()<>!|\\\\#~:^&;-]|\\[\\]\\(<|\\[\\^1\\]|\\|---\\|\n|\\[x\\] |    |[a-c]|[ \t\n\r]|é|\\PC){0,60}") {
        let (blocks, sink) = read(&text);
        check_spans(&text, &blocks);
        for d in sink {
            prop_assert!(text.get(d.span.unwrap().range()).is_some(), "{:?}", d);
        }
    }
}
