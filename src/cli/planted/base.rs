//! The manual into which names are planted: its settings, its tables, a drawing.
//!
//! Owns: their texts. Must not know: what is planted.

/// The settings, key by key.
pub const SETTINGS: &[(&str, &str)] = &[
    ("title", "Trolley"),
    ("variants", "{ SHORT: { title: Short }, LONG: { title: Long }, VARQZ: { title: One }, VARXY: { title: Other } }"),
    ("options", "{ brake: { title: Brake }, optqz: { title: One }, optxy: { title: Other } }"),
    ("option-groups", "[]"),
    ("configurations", "[ SHORT, LONG ]"),
    ("serial", "104"),
    (
        "sections",
        "[ { section: frame, title: Frame }, { section: middle-qz, title: Middle }, { section: middle-xy, title: Other } ]",
    ),
    ("hand-suffixes", "{ left: -L, right: -R }"),
    ("fastening", "{ most-washers: 3 }"),
    ("joint-kinds", "{ kind-qz: { torque: 20 in-lb }, kind-xy: { torque: 25 in-lb } }"),
    ("datums", "{ keel-line: Keel, left-line: Left, right-line: Right, left-edge: Left edge, right-edge: Right edge }"),
    ("tools", "{ tool-qz: One, tool-xy: Other }"),
    ("consumables", "{ paste-qz: One, paste-xy: Other }"),
    ("adhesives", "{}"),
    ("levels", "{}"),
    ("accept", "[]"),
];

/// Of each table the headings, the rows, and a row for what is planted.
pub const ROWS: [(&str, &str, &str); 6] = [
    (
        "number,name,opposite,stock,cut from,replaced by,SHORT",
        "KW-100,Tube,,,,,1\nQZ-777-L,One,QZ-777-R,,,,1\nQZ-777-R,One,QZ-777-L,,,,1\nQZ-888-L,Other,QZ-888-R,,,,1\nQZ-888-R,Other,QZ-888-L,,,,1\n",
        "KW-900,New,,,,,1",
    ),
    (
        "designation,name,kind,replaced by",
        "AN4-10A,Bolt,bolt,\nXQZ-777,One,bolt,\nXQZ-888,Other,bolt,\n",
        "KW-901,New,bolt,",
    ),
    ("stock,material,shape", "tube-qz,6061-T6,bar\ntube-xy,6061-T6,bar\n", "tube-new,6061-T6,bar"),
    ("part,hole,size", "", "KW-100,one,1/4"),
    ("serial,configuration,release", "", "104,SHORT,A"),
    ("serial,item,what,with,release", "", "104,AN4-10A,substituted,XQZ-777,A"),
];

pub const FIGURE: &str = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 50'><rect x='10' y='10' width='20' height='20' fill='#333'/></svg>";
