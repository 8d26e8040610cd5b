//! What a viewer shows beside the pages: outline, page labels, the document's own data.
//!
//! Owns: catalogue entries. Must not know: drawing, structure.

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

use super::structure::PageParts;
use super::{real, text_string};
use crate::layout::{Laid, OutlineEntry, PagePoint};

/// A destination: the page with the place at its top.
pub fn destination(laid: &Laid, pages: &[PageParts], place: PagePoint) -> Object {
    let Some(page) = pages.get(place.page) else { return Object::Null };
    let top = laid.pages[place.page].size.1 - place.y + 8.0;
    Object::Array(vec![page.id.into(), "XYZ".into(), Object::Null, real(top), Object::Null])
}

/// Adds the nested outline; none where the document has no entries.
pub fn outline(file: &mut Document, laid: &Laid, pages: &[PageParts]) -> Option<ObjectId> {
    let entries = &laid.outline;
    if entries.is_empty() {
        return None;
    }
    let root = file.new_object_id();
    let ids: Vec<ObjectId> = entries.iter().map(|_| file.new_object_id()).collect();
    let parents = parents(entries);
    let mut top = Vec::new();
    let mut below: Vec<Vec<usize>> = vec![Vec::new(); entries.len()];
    for (i, parent) in parents.iter().enumerate() {
        match parent {
            Some(parent) => below[*parent].push(i),
            None => top.push(i),
        }
    }
    let mut write = |siblings: &[usize], parent: ObjectId| {
        for (n, &i) in siblings.iter().enumerate() {
            let mut item = dictionary! {
                "Title" => text_string(&entries[i].title),
                "Parent" => parent,
                "Dest" => destination(laid, pages, entries[i].to),
            };
            if n > 0 {
                item.set("Prev", ids[siblings[n - 1]]);
            }
            if let Some(&next) = siblings.get(n + 1) {
                item.set("Next", ids[next]);
            }
            if let (Some(&first), Some(&last)) = (below[i].first(), below[i].last()) {
                item.set("First", ids[first]);
                item.set("Last", ids[last]);
                // Closed at first: a negative count of what opening shows.
                item.set("Count", -(below[i].len() as i64));
            }
            file.objects.insert(ids[i], item.into());
        }
    };
    write(&top, root);
    for (i, siblings) in below.iter().enumerate() {
        write(siblings, ids[i]);
    }
    let mut outline = dictionary! { "Type" => "Outlines", "Count" => top.len() as i64 };
    if let (Some(&first), Some(&last)) = (top.first(), top.last()) {
        outline.set("First", ids[first]);
        outline.set("Last", ids[last]);
    }
    file.objects.insert(root, outline.into());
    Some(root)
}

/// The entry each one stands under.
fn parents(entries: &[OutlineEntry]) -> Vec<Option<usize>> {
    let mut open: Vec<usize> = Vec::new();
    let mut out = Vec::with_capacity(entries.len());
    for (i, entry) in entries.iter().enumerate() {
        while open.last().is_some_and(|&o| entries[o].level >= entry.level) {
            open.pop();
        }
        out.push(open.last().copied());
        open.push(i);
    }
    out
}

/// Page labels: the printed numbers, which count from 1.
pub fn page_labels() -> Dictionary {
    let range = dictionary! { "S" => "D", "St" => 1 };
    dictionary! { "Nums" => Object::Array(vec![0.into(), range.into()]) }
}

/// The document information dictionary. No dates: the same manual gives the same bytes.
pub fn information(laid: &Laid) -> Dictionary {
    let mut out = dictionary! { "Title" => text_string(&laid.title), "Producer" => text_string("kitwright") };
    for (key, value) in [("Author", &laid.author), ("Subject", &laid.subject)] {
        if !value.is_empty() {
            out.set(key, text_string(value));
        }
    }
    out
}

/// The same as XMP (ISO 16684-1), with the mark of PDF/UA-1.
pub fn metadata(laid: &Laid) -> Stream {
    let escape = |text: &str| {
        text.chars()
            .filter(|c| !c.is_control())
            .collect::<String>()
            .replace('&', "&amp;")
            .replace('<', "&lt;")
            .replace('>', "&gt;")
    };
    let xmp = format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" \
         xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:title>\n\
         <dc:creator><rdf:Seq><rdf:li>{}</rdf:li></rdf:Seq></dc:creator>\n\
         <dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:description>\n\
         <dc:language><rdf:Bag><rdf:li>{}</rdf:li></rdf:Bag></dc:language>\n\
         <pdf:Producer>kitwright</pdf:Producer>\n\
         <pdfuaid:part>1</pdfuaid:part>\n\
         </rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>",
        escape(&laid.title),
        escape(&laid.author),
        escape(&laid.subject),
        escape(&laid.language),
    );
    Stream::new(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, xmp.into_bytes()).with_compression(false)
}
