//! Drills, metric hardware and tube ends against programs outside the project.

use std::io::Write as _;
use std::path::Path;
use std::process::Stdio;

use kitwright::geometry::Saddle;
use kitwright::trade::fit::bolts_like;
use kitwright::trade::{Drill, Thread, decode, hole_for};
use kitwright::units::{Angle, Length, Rational};

use crate::outside;

/// Gives `input` to a script that reads it whole; `None` where its packages are missing, and it is said so.
fn ask(python: &Path, script: &str, package: &str, input: &str) -> Option<usize> {
    outside::package(python, package, script)?;
    let mut child = outside::script(python, script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap_or_else(|e| panic!("{script}: {e}"));
    child.stdin.take().expect("a pipe").write_all(input.as_bytes()).unwrap_or_else(|e| panic!("{script}: {e}"));
    let output = child.wait_with_output().unwrap_or_else(|e| panic!("{script}: {e}"));
    assert!(output.status.success(), "{script}");
    Some(String::from_utf8_lossy(&output.stdout).trim().parse().expect("a count"))
}

/// An exact fraction, as Python reads it.
fn exact(value: Rational) -> String {
    format!("{}/{}", value.numer(), value.denom())
}

fn millimetres(length: Length) -> String {
    exact(length.as_inches() * Rational::new(127, 5))
}

#[test]
fn drills_and_metric_hardware_agree_with_a_general_purpose_library() {
    let Some(python) = outside::python("drills and metric hardware") else { return };
    let mut lines = Vec::new();
    for gauge in Drill::gauges() {
        let name = match gauge {
            Drill::Number(number) => format!("#{number}"),
            Drill::Letter(letter) => letter.to_string(),
            other => panic!("{other} is no gauge"),
        };
        lines.push(format!("drill {name} {}", exact(gauge.size().value.as_inches())));
    }
    for size in [3, 4, 5, 6, 8, 10, 12, 16, 20] {
        let bolt = decode(&format!("ISO 4017 M{size}x40")).expect("a bolt");
        let (fine, medium) = hole_for(&bolt).and_then(|hole| hole.value.limits).expect("limits");
        lines.push(format!("clearance M{size} {} {}", millimetres(fine), millimetres(medium)));
        let washer = decode(&format!("ISO 7089 {size}")).expect("a washer");
        let (bore, rim) = washer.bore_and_rim.expect("a bore").value;
        let thickness = washer.thickness.expect("a thickness").value;
        lines.push(format!("washer M{size} {} {} {}", millimetres(bore), millimetres(rim), millimetres(thickness)));
        let nut = decode(&format!("ISO 4032 M{size}")).expect("a nut");
        let pitch = nut.thread.expect("a thread").value.pitch();
        let height = nut.height.expect("a height").value;
        lines.push(format!("nut iso4032 M{size} {} {}", millimetres(pitch), millimetres(height)));
        let thin = decode(&format!("ISO 4035 M{size}")).and_then(|n| n.height).expect("a height").value;
        lines.push(format!("thinnut M{size} {} {}", millimetres(pitch), millimetres(thin)));
        let wide = decode(&format!("ISO 7093 {size}")).expect("a washer");
        let (bore, rim) = wide.bore_and_rim.expect("a bore").value;
        let thickness = wide.thickness.expect("a thickness").value;
        lines.push(format!("widewasher M{size} {} {} {}", millimetres(bore), millimetres(rim), millimetres(thickness)));
    }
    for size in ["M3", "M4", "M5", "M6", "M8", "M10", "M12", "M16", "M20"] {
        let thread = Thread::parse(size).expect(size);
        let pitch = millimetres(thread.pitch());
        lines.push(format!("tap {size} {pitch} {}", millimetres(thread.tap_drill().size().value)));
    }
    for thread in [
        "8-32", "8-36", "10-24", "10-32", "1/4-20", "1/4-28", "5/16-18", "5/16-24", "3/8-16", "3/8-24", "7/16-20",
        "1/2-20", "5/8-18", "3/4-16",
    ] {
        let drill = Thread::parse(thread).expect(thread).tap_drill();
        lines.push(format!("tapinch i{thread} {}", exact(drill.size().value.as_inches())));
    }
    for standard in ["4014", "4017", "4762", "10642", "7380"] {
        for size in [3, 4, 5, 6, 8, 10, 12, 16, 20] {
            for bolt in bolts_like(&decode(&format!("ISO {standard} M{size}x30")).expect("a bolt")) {
                let (length, pitch) =
                    (bolt.length.expect("a length").value, bolt.thread.expect("a thread").value.pitch());
                // Below the shortest of ISO 4014 those of ISO 4017 stand.
                let standard = bolt.designation.split(' ').nth(1).expect("a standard");
                lines.push(format!("length iso{standard} M{size} {} {}", millimetres(pitch), millimetres(length)));
            }
        }
    }
    let expected = lines.len();
    if let Some(count) = ask(&python, "fasteners.py", "bd_warehouse", &format!("{}\n", lines.join("\n"))) {
        assert_eq!(count, expected);
    }
}

/// Main, branch and wall, angle and offset, inches and degrees.
const SADDLES: [(&str, &str, &str, &str, &str); 6] = [
    ("1.25", "1", ".049", "45", "0"),
    ("1.25", "1", ".049", "60", "0"),
    ("1.25", "1", ".049", "45", ".1"),
    ("1.25", "1", ".058", "90", "-.1"),
    ("2", "3/4", ".035", "30", ".25"),
    ("1.375", "1.25", ".058", "75", ".05"),
];

#[test]
fn saddles_close_on_the_main_tube_in_a_solid_modeller() {
    let Some(python) = outside::python("saddles in a solid modeller") else { return };
    let mut input = String::new();
    for (main, branch, wall, angle, offset) in SADDLES {
        let inches = |text: &str| Length::parse(text).expect(text);
        let degrees = Angle::parse(angle).expect(angle);
        let saddle =
            Saddle::new(inches(main), inches(branch), inches(wall), degrees, inches(offset)).expect("a saddle");
        let outer = inches(branch).to_f64() / 2.0;
        let inner = outer - inches(wall).to_f64();
        input.push_str(&format!("{} {outer} {inner} {angle} {}", inches(main).to_f64() / 2.0, inches(offset).to_f64()));
        for i in 0..1440 {
            input.push_str(&format!(" {:.9}", saddle.cut(f64::from(i) / 4.0)));
        }
        input.push('\n');
    }
    if let Some(count) = ask(&python, "saddle.py", "manifold3d.pyi", &input) {
        assert_eq!(count, SADDLES.len());
    }
}
