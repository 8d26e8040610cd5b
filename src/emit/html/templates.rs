//! The templates: the built-in ones, and those of the manual's own that stand in for them.

use std::collections::BTreeMap;

use tera::{Context, Tera};

use crate::diag::nearest;
use crate::emit::EmitError;

/// Built-in templates can be reached under this name too, so that a manual's own can extend them.
const BUILT_IN: &str = "built-in/";

const PAGES: [(&str, &str); 5] = [
    ("page.html", include_str!("../../../templates/page.html")),
    ("blocks.html", include_str!("../../../templates/blocks.html")),
    ("navigation.html", include_str!("../../../templates/navigation.html")),
    ("stick-start.html", include_str!("../../../templates/stick-start.html")),
    ("stick-check.html", include_str!("../../../templates/stick-check.html")),
];
const STYLE: &str = "style.css";
/// Rules of the manual's own that come after the style sheet.
const MORE_STYLE: &str = "more.css";
const SCRIPT: &str = "manual.js";

/// The largest template, style sheet or script that is read, and the largest page that is made of one, in bytes. The engine
/// itself holds a range to 100,000 and calls within calls to a depth; it counts neither loops inside loops nor a text that
/// a template doubles again and again.
const LARGEST_TEMPLATE: usize = 4 << 20;
const LARGEST_PAGE: usize = 64 << 20;

/// Templates, style sheet and script, ready to be used for any number of documents.
pub struct Templates {
    tera: Tera,
    style: String,
    more_style: String,
    script: String,
}

impl Templates {
    /// The built-in templates.
    ///
    /// # Panics
    /// Never: the built-in templates are tested.
    pub fn built_in() -> Self {
        Self::new(&BTreeMap::new()).expect("the built-in templates are sound")
    }

    /// The built-in templates with those of the manual's own, by file name. Any `.html` file may define a
    /// component anew; `page.html`, `style.css` and `manual.js` replace the built-in file as a whole, and
    /// `more.css` is added to the style sheet. The engine reads no file itself.
    ///
    /// # Errors
    /// A template that cannot be read, and a file that nothing would use.
    pub fn new(own: &BTreeMap<String, String>) -> Result<Self, EmitError> {
        let mut templates = Self {
            tera: Tera::new(),
            style: [include_str!("../../../templates/style.css"), include_str!("../../../templates/shell.css")]
                .concat(),
            more_style: String::new(),
            script: built_in_script(),
        };
        // Every template writes HTML, whatever its name.
        templates.tera.autoescape_on([""]);
        templates.tera.set_fallback_prefixes([BUILT_IN]).map_err(engine)?;
        let built_in: Vec<(String, &str)> =
            PAGES.iter().map(|(name, text)| (format!("{BUILT_IN}{name}"), *text)).collect();
        templates.tera.add_raw_templates(built_in).map_err(engine)?;
        let mut pages = Vec::new();
        for (name, text) in own {
            if text.len() > LARGEST_TEMPLATE {
                return Err(too_large(name, LARGEST_TEMPLATE));
            }
            match name.as_str() {
                STYLE => templates.style = text.clone(),
                MORE_STYLE => templates.more_style = text.clone(),
                SCRIPT => templates.script = text.clone(),
                _ if name.ends_with(".html") => pages.push((name, text)),
                _ => return Err(unknown(name)),
            }
        }
        // Together, so that they can use each other's components.
        templates.tera.add_raw_templates(pages).map_err(engine)?;
        Ok(templates)
    }

    /// A page.
    ///
    /// # Errors
    /// A template that fails with what it is given.
    pub fn page(&self, context: &Context) -> Result<String, EmitError> {
        self.named("page.html", context)
    }

    /// What the template of this name makes of the values.
    ///
    /// # Errors
    /// A template that fails with what it is given, or is not there.
    pub(super) fn named(&self, name: &str, context: &Context) -> Result<String, EmitError> {
        let mut page = Page(Vec::new());
        let made = self.tera.render_to(name, context, &mut page);
        if page.0.len() > LARGEST_PAGE {
            return Err(too_large("a page", LARGEST_PAGE));
        }
        made.map_err(engine)?;
        String::from_utf8(page.0).map_err(|_| EmitError::Template { words: "a page is not UTF-8 text".to_owned() })
    }

    /// The style sheet, with the rules of the document's own colours before it.
    pub fn style(&self, colours: &str) -> String {
        [colours, &self.style, &self.more_style].concat()
    }

    pub fn script(&self) -> &str {
        &self.script
    }
}

/// A page while it is made; it takes no more than a page has.
struct Page(Vec<u8>);

impl std::io::Write for Page {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.extend_from_slice(bytes);
        if self.0.len() > LARGEST_PAGE { Err(std::io::ErrorKind::FileTooLarge.into()) } else { Ok(bytes.len()) }
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

fn too_large(what: &str, limit: usize) -> EmitError {
    EmitError::Template { words: format!("{what} has more than {} MB", limit >> 20) }
}

/// The parts of the script in one function, so that none of their names is seen outside. ECMAScript 5: pages open from
/// disk in browsers ten years old.
fn built_in_script() -> String {
    let parts = [
        include_str!("../../../templates/script/elements.js"),
        include_str!("../../../templates/script/values.js"),
        include_str!("../../../templates/script/record.js"),
        include_str!("../../../templates/script/search.js"),
        include_str!("../../../templates/script/work.js"),
        include_str!("../../../templates/script/actions.js"),
        include_str!("../../../templates/script/page.js"),
        include_str!("../../../templates/script/finder.js"),
        include_str!("../../../templates/script/today.js"),
        include_str!("../../../templates/script/shell.js"),
        include_str!("../../../templates/script/begin.js"),
    ];
    format!("(function () {{\n\"use strict\";\n{}}})();\n", parts.concat())
}

fn unknown(name: &str) -> EmitError {
    let known = PAGES.iter().map(|(name, _)| *name).chain([STYLE, MORE_STYLE, SCRIPT]);
    let nearest = nearest(name, known).map(str::to_owned);
    EmitError::UnknownTemplate { name: name.to_owned(), nearest }
}

/// The engine's own words, with those of the errors below.
fn engine(error: tera::Error) -> EmitError {
    let mut words = error.to_string();
    let mut below = std::error::Error::source(&error);
    while let Some(error) = below {
        words.push_str(": ");
        words.push_str(&error.to_string());
        below = error.source();
    }
    EmitError::Template { words }
}
