//! Random manuals written to a folder with what the project makes of them; a script reads the sources again and
//! compares: the order with networkx, the ledger with `collections.Counter`.

use std::path::Path;

use kitwright::model::read;
use kitwright::resolve::{OrderFault, PartFaultKind, Resolved, configurations, resolve};
use kitwright::source::{Files as _, Memory};
use serde_json::{Value, json};

use super::dice::tries;
use super::manual::{Circles, manual};
use crate::outside;

#[test]
fn order_agrees_with_networkx() {
    against(
        "order.py",
        "the order of steps against networkx",
        &[(0..tries(150), Circles::None), (1000..1000 + tries(100), Circles::Possible)],
    );
}

#[test]
fn ledger_agrees_with_counter() {
    against("ledger.py", "the ledger against collections.Counter", &[(2000..2000 + tries(250), Circles::None)]);
}

fn against(script: &str, check: &str, starts: &[(std::ops::Range<u64>, Circles)]) {
    let Some(python) = outside::python(check) else { return };
    let folder = tempfile::tempdir().expect("a folder can be made");
    let mut count = 0;
    for (range, circles) in starts {
        for start in range.clone() {
            write(&manual(start, *circles), &folder.path().join(start.to_string()));
            count += 1;
        }
    }
    let printed = outside::run(outside::script(&python, script).arg(folder.path()));
    assert!(printed.starts_with(&format!("{count} manuals agree")), "{printed}");
}

/// The sources, and `resolved.json` beside them.
fn write(files: &Memory, folder: &Path) {
    for entry in files.list().expect("memory can be listed") {
        let path = folder.join(&entry.path);
        std::fs::create_dir_all(path.parent().expect("a file has a folder")).expect("it can be made");
        std::fs::write(path, files.read(&entry.path).expect("it is there")).expect("it can be written");
    }
    let read = read(files).expect("memory can be read");
    let words: Vec<_> = read.faults.iter().map(|f| (f.rule, &f.headline)).collect();
    assert!(words.is_empty(), "{}: {words:?}", folder.display());
    let manual = read.manual.expect("there is a manual");
    let all: Vec<Value> = configurations(&manual).iter().map(|c| shown(&resolve(&manual, c))).collect();
    assert!(all.len() >= 8, "two variants with two free options make eight configurations");
    std::fs::write(folder.join("resolved.json"), serde_json::to_vec(&all).expect("it is plain"))
        .expect("it can be written");
}

fn shown(r: &Resolved) -> Value {
    let parts = r.ledger.parts.iter().map(|(number, account)| {
        let pulled: Vec<_> = account.pulled.iter().map(|p| json!([p.step.as_str(), p.count])).collect();
        let steps: Vec<_> = account.steps.iter().map(|s| s.as_str()).collect();
        (number.to_string(), json!({ "listed": account.listed, "pulled": pulled, "steps": steps }))
    });
    let hardware = r.ledger.hardware.iter().map(|(name, account)| {
        let taken: Vec<_> = account.taken.iter().map(|(s, _, q)| json!([s.as_str(), q.value.to_string()])).collect();
        (name.to_string(), json!({ "need": account.need.value.to_string(), "taken": taken }))
    });
    let faults = r.ledger.faults.iter().map(|f| {
        let (kind, about) = match &f.kind {
            PartFaultKind::RemovedBeforeFitted(p) => ("removed", p.to_string()),
            PartFaultKind::RefittedBeforeRemoved(p) => ("refitted", p.to_string()),
            PartFaultKind::PartNotThere(p, _) => ("not there", p.to_string()),
            PartFaultKind::AssemblyNotThere(a, _) | PartFaultKind::MadeTwice(a, _) => ("assembly", a.to_string()),
            PartFaultKind::HardwareNotThere(d) => ("removed", d.to_string()),
            PartFaultKind::HardwareNotOff(d) => ("refitted", d.to_string()),
        };
        json!([kind, about, f.step.as_str()])
    });
    let (mut backward, mut circles) = (Vec::new(), 0);
    for fault in &r.order_faults {
        match fault {
            OrderFault::Backward { step, after, .. } => backward.push(json!([step.as_str(), after.as_str()])),
            OrderFault::Circle { steps, .. } => {
                assert!(!steps.is_empty());
                circles += 1;
            }
        }
    }
    let options: Vec<_> = r.configuration.options.iter().map(|o| o.as_str()).collect();
    json!({
        "name": r.name,
        "variant": r.configuration.variant.as_str(),
        "options": options,
        "order": r.steps.iter().map(|s| s.step.id.value.as_str()).collect::<Vec<_>>(),
        "numbers": r.steps.iter().map(|s| s.number.to_string()).collect::<Vec<_>>(),
        "backward": backward,
        "circles": circles,
        "parts": parts.collect::<serde_json::Map<_, _>>(),
        "hardware": hardware.collect::<serde_json::Map<_, _>>(),
        "faults": faults.collect::<Vec<_>>(),
    })
}
