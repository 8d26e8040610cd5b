//! One word for one thing: `templates/terms.csv` lists the words, and those that must not stand for them. Messages, labels,
//! helps, README and the demonstration are held to it.

mod texts;

use std::path::Path;

use texts::{Text, texts};

/// A word of the list.
struct Term {
    word: String,
    /// What must not stand for it, in small letters.
    not: Vec<String>,
    /// Beginnings of paths where that may stand all the same.
    may: Vec<String>,
}

fn terms() -> Vec<Term> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/terms.csv");
    let mut reader = csv::Reader::from_path(path).expect("the list can be read");
    assert_eq!(reader.headers().expect("a head"), vec!["term", "meaning", "not", "may"]);
    let list = |cell: &str| cell.split(';').map(|w| w.trim().to_owned()).filter(|w| !w.is_empty()).collect();
    let term = |row: csv::StringRecord| {
        assert!(!row[1].is_empty(), "{} has no meaning", &row[0]);
        let not: Vec<String> = list(&row[2].to_lowercase());
        assert!(!not.is_empty(), "nothing is kept from standing for {}", &row[0]);
        Term { word: row[0].to_owned(), not, may: list(&row[3]) }
    };
    reader.records().map(|row| term(row.expect("a row"))).collect()
}

/// The places where another word stands for a term, each with what to write.
fn strays(terms: &[Term], texts: &[Text]) -> Vec<String> {
    let mut found = Vec::new();
    for text in texts {
        let words = plain(&text.words);
        for term in terms.iter().filter(|t| !t.may.iter().any(|may| text.path.starts_with(may))) {
            for not in term.not.iter().filter(|not| stands_in(not, &words)) {
                found.push(format!("{}:{}: write `{}`, not `{not}`: {}", text.path, text.line, term.word, text.words));
            }
        }
    }
    found
}

/// In small letters, with one blank between words, without code and without what is filled in.
fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut closes = None;
    for c in text.chars() {
        match closes {
            Some(end) if c == end => closes = None,
            Some(_) => {}
            None if c == '`' => closes = Some('`'),
            None if c == '{' => closes = Some('}'),
            None => {
                out.extend(c.to_lowercase());
                continue;
            }
        }
        // So that the words on both sides are not joined.
        out.push('…');
    }
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a word or a phrase stands in a text as a whole; `own-fault` is not `fault`.
fn stands_in(phrase: &str, text: &str) -> bool {
    let joins = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '='));
    text.match_indices(phrase)
        .any(|(at, _)| !joins(text[..at].chars().next_back()) && !joins(text[at + phrase.len()..].chars().next()))
}

#[test]
fn one_word_stands_for_one_thing() {
    let terms = terms();
    assert!(terms.len() >= 60, "only {} terms", terms.len());
    let texts = texts();
    assert!(texts.len() > 6_000, "only {} texts were found", texts.len());
    let found = strays(&terms, &texts);
    assert!(found.is_empty(), "{} places:\n{}", found.len(), found.join("\n"));
}

/// Who has the program alone has none of the files of the project's folder: a message names `kitwright keys` or
/// `kitwright rules` in their place.
#[test]
fn no_message_points_to_a_file_of_the_project() {
    let files = ["README", "DEVELOPERS", ".readme/", "tests/", "reference.md", "guide.md"];
    let pointing = |text: &Text| files.iter().any(|file| text.words.contains(file));
    let shown = |text: &&Text| text.path.starts_with("src/") || text.path.starts_with("templates/");
    let found: Vec<_> =
        texts().into_iter().filter(|t| shown(&t) && pointing(t)).map(|t| t.path + ": " + &t.words).collect();
    assert!(found.is_empty(), "{found:#?}");
    let planted = texts::of_file("src/x.rs", "const A: &str = \"see README.md\";");
    assert!(planted.iter().any(pointing));
}

/// A word of the list may not be what another must not be called.
#[test]
fn the_list_keeps_to_itself() {
    let terms = terms();
    let mut words: Vec<&str> = terms.iter().map(|t| t.word.as_str()).collect();
    for term in &terms {
        let word = term.word.to_lowercase();
        let against = terms.iter().find(|t| t.not.iter().any(|not| stands_in(not, &word)));
        assert!(against.is_none(), "{} is kept from standing for {}", term.word, against.map_or("", |t| &t.word));
    }
    words.sort_by_key(|w| w.to_lowercase());
    assert!(words.iter().eq(terms.iter().map(|t| &t.word)), "the terms are not in order");
    words.dedup();
    assert_eq!(words.len(), terms.len(), "a term is listed twice");
}

#[test]
fn a_stray_word_is_found_with_its_place_and_what_to_write() {
    let terms = terms();
    let planted = |path: &str, text: &str| strays(&terms, &texts::of_file(path, text)).join("\n");
    let rust =
        "fn f() {\n    // The wanted spanner.\n    help(\"tighten it \\\n        with a Spanner, `spanner`\");\n}\n";
    assert_eq!(
        planted("src/x.rs", rust),
        "src/x.rs:3: write `wrench`, not `spanner`: tighten it with a Spanner, `spanner`"
    );
    assert_eq!(planted("src/x.rs", "#[cfg(test)]\nmod tests {\n    const A: &str = \"a spanner\";\n}\n"), "");
    assert_eq!(planted("src/x.rs", "const A: &str = \"own-fault\"; const B: &str = \"no {fault} here\";"), "");
    assert!(planted("src/check/rules/x.rs", "//! A fault of the step.\n").contains(":1: write `error`"));
    assert!(planted("src/cli/typed.rs", "/// Lists the\n/// faults\nstruct A;\n").contains(":1: write `error`"));
    assert!(planted("README.md", "# A\n\nThe bill of\nmaterials.\n").contains(":3: write `parts list`"));
    assert_eq!(planted("README.md", "```\nthe spanner\n```\n"), "");
    assert!(planted("templates/page.html", "<p\nclass=\"a\">Wanted</p>").contains("write `required`"));
    assert!(planted("templates/script/a.js", "say(\"Wanted\"); // wanted").contains("write `required`"));
    assert!(planted("manual-src/parts.csv", "number,name\nA-1,Spanner rest\n").contains(":2: write `wrench`"));
}
