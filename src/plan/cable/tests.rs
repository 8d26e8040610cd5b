use super::*;
use crate::model;
use crate::resolve::{configurations, resolve};
use crate::source::Memory;

const END: &str = "thimble: TH, sleeve: SL, crimps: 3, loop: 4 1/2";

fn with(steps: &[&str], check: impl FnOnce(&Manual, &Resolved)) {
    let mut files = Memory::new();
    files.insert(
        "manual.yaml",
        b"title: T\nvariants: { A: { title: A } }\nsections: [{ section: s, title: S }]\n".as_slice(),
    );
    files.insert(
        "parts.csv",
        "number,name,material,stock,blank length,A\nK-1,Cable,316 stainless,C-1,70,1\n".as_bytes(),
    );
    files.insert("hardware.csv", "designation,name,kind\nTH,Thimble,thimble\nSL,Sleeve,sleeve\nTB,Turnbuckle,turnbuckle\nPU,Pulley,other\nFL,Fairlead,other\n".as_bytes());
    files.insert("stock.csv", "stock,material,shape,outside diameter\nC-1,316 stainless,cable,1/8\n".as_bytes());
    for (i, cables) in steps.iter().enumerate() {
        let step =
            format!("---\nstep: s{i}\ntitle: S\nsection: s\ncables:\n  - {{ cable: c, {cables} }}\n---\n1. Do it.\n");
        files.insert(format!("steps/{i}.md"), step.as_bytes());
    }
    let read = model::read(&files).expect("a folder in memory");
    let manual = read.manual.expect("a manual");
    let resolved = resolve(&manual, &configurations(&manual)[0]);
    check(&manual, &resolved);
}

fn kinds(steps: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    with(steps, |_, resolved| {
        found = cable_faults(resolved).iter().map(|f| format!("{:?} in {}", f.kind, f.step.step.id.value)).collect();
    });
    found
}

/// By hand: 60 less 3 from pin to thimble, with twice 4 1/2 round the thimbles. 60 % of 1,760 lb (FAA AC 43.13-1B
/// Table 7-3) is 1,056.
#[test]
fn a_cable_is_cut_longer_by_its_loops() {
    let one = format!(
        "part: K-1, construction: 7x19, length: 60, end-a: {{ {END} }}, end-b: {{ {END}, turnbuckle: TB, reach: 3 }}"
    );
    with(&[&one], |manual, resolved| {
        let runs = cables(manual, resolved);
        assert_eq!(runs[0].cut_length(), Some(Length::inches(66, 1)));
        assert_eq!((runs[0].strength.map(|s| s.value), runs[0].proof().map(|s| s.value)), (Some(1760), Some(1056)));
        let booked: Vec<_> =
            resolved.steps[0].hardware.iter().map(|h| format!("{} {}", h.quantity, h.designation)).collect();
        assert_eq!(booked, ["2 TH", "2 SL", "1 TB"]);
    });
}

#[test]
fn an_end_is_closed_after_the_run_is_threaded() {
    let define = format!("part: K-1, length: 60, run: [{{ pulley: PU }}, {{ fairlead: FL }}], end-a: {{ {END} }}");
    let (thread, close) = ("thread: yes", format!("end-b: {{ {END} }}"));
    assert_eq!(kinds(&[&define, thread, &close]), [""; 0]);
    assert_eq!(kinds(&[&define, "thread: [PU]", "thread: [FL]", &close]), [""; 0]);
    assert_eq!(kinds(&[&define, &close]), ["ClosedEarly { left: [\"PU\", \"FL\"] } in s1"]);
    assert_eq!(kinds(&[&define, "thread: [PU]", &close]), ["ClosedEarly { left: [\"FL\"] } in s2"]);
    assert_eq!(
        kinds(&[&define, &close, thread]),
        ["ClosedEarly { left: [\"PU\", \"FL\"] } in s1", "ThreadedLate in s2"]
    );
    assert_eq!(
        kinds(&[&define, "thread: [FL, PU]", &close]),
        ["OutOfOrder { name: \"FL\", next: Some(\"PU\") } in s1"]
    );
    assert_eq!(kinds(&[&define, "thread: [PU, FL, XX]", &close]), ["NotInRun { name: \"XX\" } in s1"]);
    assert_eq!(kinds(&[&define, thread]), ["NeverClosed { end: 'B' } in s0"]);
    assert_eq!(kinds(&[&define, thread, &close, &close]), ["ClosedTwice { end: 'B' } in s3"]);
    assert_eq!(kinds(&[thread]), ["NotDefined in s0"]);
    // Within one step end B comes last.
    assert_eq!(kinds(&[&format!("{define}, thread: yes, {close}")]), [""; 0]);
    // From a closed end B the run is threaded backward.
    let from_b = define.replace("end-a", "end-b");
    let close_a = close.replace("end-b", "end-a");
    assert_eq!(kinds(&[&from_b, "thread: [FL, PU]", &close_a]), [""; 0]);
}
