//! The tree as plain CommonMark HTML, so that it can be compared with the CommonMark specification's examples.

use super::{ColumnAlign, MdBlock, MdBlockKind, MdInline, MdInlineKind, MdItem};

/// The HTML that the specification's reference renderer would write, except that every list is written loose: the tree
/// does not keep whether it was tight. Link titles and code block languages are not in the tree either.
pub(super) fn render(blocks: &[MdBlock]) -> String {
    let mut out = String::new();
    for block in blocks {
        write_block(block, &mut out);
    }
    out
}

fn write_block(block: &MdBlock, out: &mut String) {
    match &block.kind {
        MdBlockKind::Paragraph(content) => wrap("p", content, out),
        MdBlockKind::Heading { level, content } => wrap(&format!("h{level}"), content, out),
        MdBlockKind::List { ordered, items } => {
            let (open, close) = match ordered {
                Some(1) => ("<ol>".to_owned(), "</ol>"),
                Some(n) => (format!("<ol start=\"{n}\">"), "</ol>"),
                None => ("<ul>".to_owned(), "</ul>"),
            };
            *out += &format!("{open}\n");
            items.iter().for_each(|item| write_item(item, out));
            *out += &format!("{close}\n");
        }
        MdBlockKind::Quote(blocks) | MdBlockKind::Safety { blocks, .. } => {
            *out += &format!("<blockquote>\n{}</blockquote>\n", render(blocks));
        }
        MdBlockKind::Table { aligns, head, rows } => {
            let row = |cells: &Vec<Vec<MdInline>>, tag: &str| {
                let mut line = "<tr>\n".to_owned();
                for (cell, align) in cells.iter().zip(aligns) {
                    let align = match align {
                        ColumnAlign::None => "",
                        ColumnAlign::Left => " align=\"left\"",
                        ColumnAlign::Center => " align=\"center\"",
                        ColumnAlign::Right => " align=\"right\"",
                    };
                    line += &format!("<{tag}{align}>{}</{tag}>\n", inlines(cell));
                }
                line + "</tr>\n"
            };
            *out += &format!("<table>\n<thead>\n{}</thead>\n", row(head, "th"));
            if !rows.is_empty() {
                let rows: String = rows.iter().map(|r| row(r, "td")).collect();
                *out += &format!("<tbody>\n{rows}</tbody>\n");
            }
            *out += "</table>\n";
        }
        MdBlockKind::Code(code) => *out += &format!("<pre><code>{}</code></pre>\n", escape(code)),
        MdBlockKind::Rule => *out += "<hr />\n",
        MdBlockKind::FootnoteDefinition { blocks, .. } | MdBlockKind::Only { blocks, .. } => *out += &render(blocks),
    }
}

fn write_item(item: &MdItem, out: &mut String) {
    let task = match item.task {
        None => "",
        Some(true) => "[x] ",
        Some(false) => "[ ] ",
    };
    *out += &format!("<li>{task}\n{}</li>\n", render(&item.blocks));
}

fn wrap(tag: &str, content: &[MdInline], out: &mut String) {
    *out += &format!("<{tag}>{}</{tag}>\n", inlines(content));
}

fn inlines(content: &[MdInline]) -> String {
    content
        .iter()
        .map(|inline| match &inline.kind {
            MdInlineKind::Text(text) => escape(text),
            MdInlineKind::Strong(inner) => format!("<strong>{}</strong>", inlines(inner)),
            MdInlineKind::Emphasis(inner) => format!("<em>{}</em>", inlines(inner)),
            MdInlineKind::Code(code) => format!("<code>{}</code>", escape(code)),
            MdInlineKind::Link { to, content } => format!("<a href=\"{}\">{}</a>", to.value, inlines(content)),
            MdInlineKind::SoftBreak => "\n".to_owned(),
            MdInlineKind::HardBreak => "<br />\n".to_owned(),
            MdInlineKind::FootnoteMark(label) => format!("[{label}]"),
        })
        .collect()
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
