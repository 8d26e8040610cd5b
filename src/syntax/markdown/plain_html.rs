//! The tree as plain CommonMark HTML, so that it can be compared with the CommonMark specification's examples.

use super::{Block, BlockKind, ColumnAlign, Inline, InlineKind, Item};

/// The HTML that the specification's reference renderer would write, except that every list is written loose: the tree
/// does not keep whether it was tight. Link titles and code block languages are not in the tree either.
pub(super) fn render(blocks: &[Block]) -> String {
    let mut out = String::new();
    for block in blocks {
        write_block(block, &mut out);
    }
    out
}

fn write_block(block: &Block, out: &mut String) {
    match &block.kind {
        BlockKind::Paragraph(content) => wrap("p", content, out),
        BlockKind::Heading { level, content } => wrap(&format!("h{level}"), content, out),
        BlockKind::List { ordered, items } => {
            let (open, close) = match ordered {
                Some(1) => ("<ol>".to_owned(), "</ol>"),
                Some(n) => (format!("<ol start=\"{n}\">"), "</ol>"),
                None => ("<ul>".to_owned(), "</ul>"),
            };
            *out += &format!("{open}\n");
            items.iter().for_each(|item| write_item(item, out));
            *out += &format!("{close}\n");
        }
        BlockKind::Quote(blocks) | BlockKind::Safety { blocks, .. } => {
            *out += &format!("<blockquote>\n{}</blockquote>\n", render(blocks));
        }
        BlockKind::Table { aligns, head, rows } => {
            let row = |cells: &Vec<Vec<Inline>>, tag: &str| {
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
        BlockKind::Code(code) => *out += &format!("<pre><code>{}</code></pre>\n", escape(code)),
        BlockKind::Rule => *out += "<hr />\n",
        BlockKind::FootnoteDefinition { blocks, .. } | BlockKind::Only { blocks, .. } => *out += &render(blocks),
    }
}

fn write_item(item: &Item, out: &mut String) {
    let task = match item.task {
        None => "",
        Some(true) => "[x] ",
        Some(false) => "[ ] ",
    };
    *out += &format!("<li>{task}\n{}</li>\n", render(&item.blocks));
}

fn wrap(tag: &str, content: &[Inline], out: &mut String) {
    *out += &format!("<{tag}>{}</{tag}>\n", inlines(content));
}

fn inlines(content: &[Inline]) -> String {
    content
        .iter()
        .map(|inline| match &inline.kind {
            InlineKind::Text(text) => escape(text),
            InlineKind::Strong(inner) => format!("<strong>{}</strong>", inlines(inner)),
            InlineKind::Emphasis(inner) => format!("<em>{}</em>", inlines(inner)),
            InlineKind::Code(code) => format!("<code>{}</code>", escape(code)),
            InlineKind::Link { to, content } => format!("<a href=\"{}\">{}</a>", to.value, inlines(content)),
            InlineKind::SoftBreak => "\n".to_owned(),
            InlineKind::HardBreak => "<br />\n".to_owned(),
            InlineKind::FootnoteMark(label) => format!("[{label}]"),
        })
        .collect()
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
