use proptest::prelude::*;

use super::{Condition, parse_condition};
use crate::diag::Sink;
use crate::source::{FileId, Span};

fn read(text: &str) -> (Condition, Sink) {
    let mut sink = Sink::new();
    let condition = parse_condition(text, Span::new(FileId(0), 100..100 + text.len()), &mut sink);
    (condition, sink)
}

/// The tree in prefix form.
fn shape(c: &Condition) -> String {
    let join = |word: &str, cs: &[Condition]| format!("{word}({})", cs.iter().map(shape).collect::<Vec<_>>().join(" "));
    match c {
        Condition::Name(n) => n.value.clone(),
        Condition::Based(n) => format!("{}*", n.value),
        Condition::Serial { from, to, .. } => format!("{from}..{to}"),
        Condition::Conversion { from, to } => format!("{}>{}", from.value, to.value),
        Condition::Not(c) => format!("not({})", shape(c)),
        Condition::And(cs) => join("and", cs),
        Condition::Or(cs) => join("or", cs),
        Condition::Unreadable => "?".into(),
    }
}

#[test]
fn what_is_written_is_read() {
    for (text, wanted) in [
        ("ICE", "ICE"),
        ("ICE and brake", "and(ICE brake)"),
        ("ICE and (brake or not tow)", "and(ICE or(brake not(tow)))"),
        ("SAND or DUO", "or(SAND DUO)"),
        ("ICE and based", "ICE*"),
        ("from SAND to ICE", "SAND>ICE"),
        ("From SAND to ICE and claw", "and(SAND>ICE claw)"),
        ("from or to", "or(from to)"),
        ("ICE and based and not brake", "and(ICE* not(brake))"),
        ("serial 100..149", "100..149"),
        ("ICE and serial 100 .. 149", "and(ICE 100..149)"),
        ("serial 7", "7..7"),
        ("serial 150..", "150..4294967295"),
        ("serial ..99", "0..99"),
        ("NOT ICE", "not(ICE)"),
        ("not (A or B) and C", "and(not(or(A B)) C)"),
        ("serial", "serial"),
        ("M-2.5", "M-2.5"),
    ] {
        let (condition, sink) = read(text);
        assert_eq!((shape(&condition).as_str(), sink.len()), (wanted, 0), "{text}: {sink:?}");
    }
}

#[test]
fn names_have_their_own_place() {
    let (condition, _) = read("ICE  and brake");
    let Condition::And(parts) = condition else { panic!() };
    let Condition::Name(name) = &parts[1] else { panic!() };
    assert_eq!(name.span.range(), 109..114);
}

#[test]
fn mixed_words_without_brackets_are_told() {
    let (condition, sink) = read("A and B or C");
    assert_eq!(shape(&condition), "or(and(A B) C)");
    assert_eq!(sink[0].label, "read as `(A and B) or C`");
    assert!(read("(A and B) or C").1.is_empty());
}

#[test]
fn faults_are_marked_where_they_stand() {
    for (text, at, headline) in [
        ("ICE, brake", ",", "a comma in a condition can mean `and` or `or`"),
        ("ICE brake", "brake", "`and` or `or` is missing before `brake`"),
        ("ICE and", "and", "the condition ends after `and`"),
        ("(ICE or brake", "(", "a bracket is opened and not closed"),
        ("ICE)", ")", "a bracket closes that was never opened"),
        ("or ICE", "or", "a variant or an option is missing before `or`"),
        ("ICE + brake", "+", "`+` is not read in a condition"),
        ("serial 9..3", "serial 9..3", "the serial numbers run backward"),
        ("serial 1..x", "x", "`x` is not a serial number"),
        ("serial ..", "..", "`serial ..` holds no number"),
        ("", "", "the condition is empty"),
        ("ICE and é\u{301}*", "\u{301}", "`\u{301}` is not read in a condition"),
    ] {
        let (condition, sink) = read(text);
        assert_eq!(condition, Condition::Unreadable, "{text}");
        let range = sink[0].span.unwrap().range();
        assert_eq!((&text[range.start - 100..range.end - 100], sink[0].headline.as_str()), (at, headline));
    }
    let help = &read("ICE, brake").1[0].help;
    assert!(help.contains("`ICE or brake`") && help.contains("`ICE and brake`"), "{help}");
}

proptest! {
    #[test]
    fn no_text_breaks_reading(text in "(ICE|and|or|not|based|serial|[0-9]{1,11}|\\.\\.|[(), ]|\\PC| ){0,30}") {
        let (condition, sink) = read(&text);
        prop_assert_eq!(condition == Condition::Unreadable, sink.iter().any(|d| d.rule == "broken-condition"));
        for d in sink {
            let range = d.span.unwrap().range();
            prop_assert!(text.get(range.start - 100..range.end - 100).is_some());
        }
    }

    #[test]
    fn depth_is_bounded(n in 0..5000usize) {
        let _ = read(&"not ".repeat(n));
        let _ = read(&"(".repeat(n));
    }
}
