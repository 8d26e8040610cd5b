//! SVG to drawing operations.
//!
//! Owns: the walk over a parsed SVG. What plain operations can't say (patterns, masks, filters, blending) is drawn
//! as pixels, that part alone. Must not know: PDF.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{self, fontdb};

use super::Undrawable;
use super::drawing::{FillRule, Gradient, GradientKind, Letters, Op, Paint, PathPart, StrokeLook, Vector};
use super::limits::MOST_PIXELS;
use super::painting::Painting;
use super::raster::{Pixels, Raster, read_jpeg, read_png};
use crate::typeface::Typeface;

/// Pixels per user unit (1/96 in) of parts drawn as pixels: 288 an inch at natural size.
const DENSITY: f32 = 3.0;
/// The most pixels either way of such a part.
const MOST_ACROSS: f32 = 4000.0;
/// How deep groups may stand in one another. Drawings are refused earlier, by their text.
const MOST_DEEP: usize = 400;

/// The built-in fonts, for text in drawings.
fn fonts() -> Arc<fontdb::Database> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    FONTS
        .get_or_init(|| {
            let mut fonts = fontdb::Database::new();
            for face in [
                Typeface::Sans,
                Typeface::SansBold,
                Typeface::SansOblique,
                Typeface::Condensed,
                Typeface::CondensedBold,
                Typeface::CondensedOblique,
                Typeface::Mono,
            ] {
                fonts.load_font_source(fontdb::Source::Binary(Arc::new(face.bytes())));
            }
            fonts.set_serif_family("DejaVu Sans");
            fonts.set_sans_serif_family("DejaVu Sans");
            fonts.set_cursive_family("DejaVu Sans");
            fonts.set_fantasy_family("DejaVu Sans");
            fonts.set_monospace_family("DejaVu Sans Mono");
            Arc::new(fonts)
        })
        .clone()
}

/// Reads an SVG that was found safe. Nothing outside it is ever read.
pub fn read(bytes: &[u8]) -> Result<Vector, Undrawable> {
    let mut options =
        usvg::Options { fontdb: fonts(), font_family: "DejaVu Sans".to_owned(), ..usvg::Options::default() };
    options.image_href_resolver.resolve_string = Box::new(|_, _| None);
    let tree = usvg::Tree::from_data(bytes, &options).map_err(|e| Undrawable(e.to_string()))?;
    let size = tree.size();
    let mut walk = Walk::default();
    let ops = walk.children(tree.root())?;
    Ok(Vector {
        width: f64::from(size.width()),
        height: f64::from(size.height()),
        ops,
        missing: walk.missing.into_iter().collect(),
    })
}

#[derive(Default)]
struct Walk {
    missing: BTreeSet<char>,
    /// The characters looked at so far.
    seen: BTreeSet<char>,
    depth: usize,
    /// The pixels of all that is drawn as pixels.
    pixels: u64,
    painting: Painting,
    /// Photographs that were decoded, by where their bytes are: one that is shown again is decoded once.
    rasters: BTreeMap<usize, Raster>,
}

/// How large a text is, and where it hangs: the point that it is set from, at half the height of its capitals.
fn letters(text: &usvg::Text) -> Option<Letters> {
    let sizes = text.chunks().iter().flat_map(|chunk| chunk.spans()).map(|span| f64::from(span.font_size().get()));
    let size = sizes.reduce(f64::min)?;
    let (first, around) = (text.chunks().first()?, text.bounding_box());
    let x = first.x().unwrap_or_else(|| around.x() + around.width() / 2.0);
    let y = first.y().map_or_else(|| around.y() + around.height() / 2.0, |y| y - size as f32 * 0.36);
    Some(Letters { size, at: (f64::from(x), f64::from(y)) })
}

impl Walk {
    fn children(&mut self, group: &usvg::Group) -> Result<Vec<Op>, Undrawable> {
        let mut ops = Vec::new();
        if self.depth >= MOST_DEEP {
            return Err(Undrawable("its groups are nested too deep".to_owned()));
        }
        self.depth += 1;
        for node in group.children() {
            match node {
                usvg::Node::Group(child) => self.group(child, node, &mut ops)?,
                usvg::Node::Path(path) => self.path(path, node, &mut ops)?,
                usvg::Node::Image(image) => self.image(image, &mut ops)?,
                usvg::Node::Text(text) => {
                    self.note_missing(text);
                    let inner = self.children(text.flattened())?;
                    if !inner.is_empty() {
                        ops.push(Op::Group {
                            matrix: matrix(text.flattened().transform()),
                            clips: Vec::new(),
                            opacity: 1.0,
                            lettering: letters(text),
                            ops: inner,
                        });
                    }
                }
            }
        }
        self.depth -= 1;
        Ok(ops)
    }

    fn group(&mut self, group: &usvg::Group, node: &usvg::Node, ops: &mut Vec<Op>) -> Result<(), Undrawable> {
        let plain =
            group.mask().is_none() && group.filters().is_empty() && group.blend_mode() == usvg::BlendMode::Normal;
        let mut clips = Vec::new();
        let clipped = group.clip_path().is_none_or(|clip| clip_paths(clip, &mut clips));
        if !plain || !clipped {
            // Drawn from outside its own transform, for the operations around it apply that one's parent only.
            let outer = group.abs_transform().pre_concat(group.transform().invert().unwrap_or_default());
            return self.as_pixels(node, outer, ops);
        }
        let inner = self.children(group)?;
        if !inner.is_empty() {
            ops.push(Op::Group {
                matrix: matrix(group.transform()),
                clips,
                opacity: f64::from(group.opacity().get()),
                lettering: None,
                ops: inner,
            });
        }
        Ok(())
    }

    /// Characters of a text that no built-in font has: they would not be drawn.
    fn note_missing(&mut self, text: &usvg::Text) {
        let characters = text.chunks().iter().flat_map(|chunk| chunk.text().chars());
        let uncommon = characters.filter(|c| !c.is_ascii() && !c.is_whitespace() && !c.is_control());
        let mut missing: Vec<char> = uncommon.filter(|c| self.seen.insert(*c)).collect();
        let fonts = fonts();
        for face in fonts.faces() {
            if missing.is_empty() {
                return;
            }
            fonts.with_face_data(face.id, |data, index| without_drawn(&mut missing, data, index));
        }
        self.missing.extend(missing);
    }

    fn path(&mut self, path: &usvg::Path, node: &usvg::Node, ops: &mut Vec<Op>) -> Result<(), Undrawable> {
        if !path.is_visible() {
            return Ok(());
        }
        let parts = path_parts(path.data());
        let fill = path.fill().map(|fill| {
            let rule = if fill.rule() == usvg::FillRule::EvenOdd { FillRule::EvenOdd } else { FillRule::NonZero };
            paint(fill.paint()).map(|paint| Op::Fill {
                path: parts.clone(),
                rule,
                paint,
                opacity: f64::from(fill.opacity().get()),
            })
        });
        let stroke = path.stroke().map(|stroke| match stroke.paint() {
            usvg::Paint::Color(color) => Some(Op::Stroke {
                path: parts.clone(),
                color: rgb(*color),
                opacity: f64::from(stroke.opacity().get()),
                look: stroke_look(stroke),
            }),
            _ => None,
        });
        // Nested options: outside whether it is there, inside whether it can be said.
        if matches!(fill, Some(None)) || matches!(stroke, Some(None)) {
            return self.as_pixels(node, path.abs_transform(), ops);
        }
        let both = [fill.flatten(), stroke.flatten()];
        match path.paint_order() {
            usvg::PaintOrder::FillAndStroke => ops.extend(both.into_iter().flatten()),
            usvg::PaintOrder::StrokeAndFill => ops.extend(both.into_iter().rev().flatten()),
        }
        Ok(())
    }

    fn image(&mut self, image: &usvg::Image, ops: &mut Vec<Op>) -> Result<(), Undrawable> {
        if !image.is_visible() {
            return Ok(());
        }
        let size = image.size();
        let place = [0.0, 0.0, f64::from(size.width()), f64::from(size.height())];
        let (bytes, is_png) = match image.kind() {
            usvg::ImageKind::PNG(bytes) => (bytes, true),
            usvg::ImageKind::JPEG(bytes) => (bytes, false),
            // No drawing that is carried holds one.
            usvg::ImageKind::SVG(_) | usvg::ImageKind::GIF(_) | usvg::ImageKind::WEBP(_) => return Ok(()),
        };
        let key = bytes.as_ptr() as usize;
        let raster = match self.rasters.get(&key) {
            Some(raster) => raster.clone(),
            None if is_png => read_png(bytes)?,
            None => read_jpeg(bytes)?,
        };
        self.count(u64::from(raster.width) * u64::from(raster.height))?;
        self.rasters.insert(key, raster.clone());
        ops.push(Op::Raster { raster, place });
        Ok(())
    }

    /// Counts pixels against the most that one drawing may have.
    fn count(&mut self, pixels: u64) -> Result<(), Undrawable> {
        self.pixels += pixels;
        if self.pixels > MOST_PIXELS {
            return Err(Undrawable(format!(
                "its photographs, patterns, masks and filters come to more than {} million pixels",
                MOST_PIXELS / 1_000_000
            )));
        }
        Ok(())
    }

    /// Draws one node as pixels and places them in the space that `outer` maps to the picture's.
    fn as_pixels(&mut self, node: &usvg::Node, outer: Transform, ops: &mut Vec<Op>) -> Result<(), Undrawable> {
        let Some(bounds) = node.abs_layer_bounding_box() else { return Ok(()) };
        let density = DENSITY.min(MOST_ACROSS / bounds.width().max(bounds.height()).max(1.0));
        let (width, height) = ((bounds.width() * density).ceil() as u32, (bounds.height() * density).ceil() as u32);
        let (width, height) = (width.max(1), height.max(1));
        let pixels = u64::from(width) * u64::from(height);
        self.count(pixels)?;
        self.painting.add(node, Transform::from_scale(density, density).pre_concat(outer), pixels)?;
        let Some(mut pixmap) = Pixmap::new(width, height) else { return Ok(()) };
        // The node is drawn in the space around it, and what moves that one is put under its own corner.
        let corner = Transform::from_translate(bounds.x(), bounds.y());
        let moved = Transform::from_scale(density, density)
            .pre_translate(-bounds.x(), -bounds.y())
            .pre_concat(outer)
            .pre_concat(corner);
        if resvg::render_node(node, moved, &mut pixmap.as_mut()).is_none() {
            return Ok(());
        }
        let pixels: Vec<_> = pixmap.pixels().iter().map(|p| p.demultiply()).collect();
        let raster = Raster {
            width: pixmap.width(),
            height: pixmap.height(),
            pixels: Pixels::Rgb(pixels.iter().flat_map(|p| [p.red(), p.green(), p.blue()]).collect()),
            alpha: Some(pixels.iter().map(|p| p.alpha()).collect()),
            turn: 1,
        };
        let place = [
            f64::from(bounds.x()),
            f64::from(bounds.y()),
            f64::from(pixmap.width()) / f64::from(density),
            f64::from(pixmap.height()) / f64::from(density),
        ];
        let back = matrix(outer.invert().unwrap_or_default());
        ops.push(Op::Group {
            matrix: back,
            clips: Vec::new(),
            opacity: 1.0,
            lettering: None,
            ops: vec![Op::Raster { raster, place }],
        });
        Ok(())
    }
}

/// Takes away the characters that a font has.
fn without_drawn(characters: &mut Vec<char>, data: &[u8], index: u32) {
    use allsorts::binary::read::ReadScope;
    use allsorts::font::MatchingPresentation;
    use allsorts::font_data::FontData;
    let Ok(font) = ReadScope::new(data).read::<FontData<'_>>() else { return };
    let Ok(provider) = font.table_provider(index as usize) else { return };
    let Ok(mut font) = allsorts::Font::new(provider) else { return };
    characters.retain(|c| font.lookup_glyph_index(*c, MatchingPresentation::NotRequired, None).0 == 0);
}

/// The paths that clip, in the clipped group's space; false where they can't be said as paths.
fn clip_paths(clip: &usvg::ClipPath, clips: &mut Vec<(Vec<PathPart>, FillRule)>) -> bool {
    if clip.clip_path().is_some_and(|outer| !clip_paths(outer, clips)) {
        return false;
    }
    let mut parts = Vec::new();
    let mut rules = BTreeSet::new();
    if !gather_clip(clip.root(), clip.transform(), &mut parts, &mut rules) || rules.len() > 1 {
        return false;
    }
    let rule = if rules.contains(&1) { FillRule::EvenOdd } else { FillRule::NonZero };
    clips.push((parts, rule));
    true
}

fn gather_clip(group: &usvg::Group, transform: Transform, parts: &mut Vec<PathPart>, rules: &mut BTreeSet<u8>) -> bool {
    let transform = transform.pre_concat(group.transform());
    if group.clip_path().is_some() {
        return false;
    }
    group.children().iter().all(|node| match node {
        usvg::Node::Path(path) => {
            let Some(fill) = path.fill() else { return true };
            rules.insert(u8::from(fill.rule() == usvg::FillRule::EvenOdd));
            match path.data().clone().transform(transform) {
                Some(path) => {
                    parts.extend(path_parts(&path));
                    true
                }
                None => false,
            }
        }
        usvg::Node::Group(inner) => gather_clip(inner, transform, parts, rules),
        usvg::Node::Text(text) => gather_clip(text.flattened(), transform, parts, rules),
        usvg::Node::Image(_) => false,
    })
}

fn paint(paint: &usvg::Paint) -> Option<Paint> {
    match paint {
        usvg::Paint::Color(color) => Some(Paint::Solid(rgb(*color))),
        usvg::Paint::LinearGradient(g) => {
            let kind = GradientKind::Linear([g.x1(), g.y1(), g.x2(), g.y2()].map(f64::from));
            gradient(kind, g.transform(), g.spread_method(), g.stops())
        }
        usvg::Paint::RadialGradient(g) => {
            let kind = GradientKind::Radial([g.fx(), g.fy(), g.fr().get(), g.cx(), g.cy(), g.r().get()].map(f64::from));
            gradient(kind, g.transform(), g.spread_method(), g.stops())
        }
        usvg::Paint::Pattern(_) => None,
    }
}

fn gradient(
    kind: GradientKind,
    transform: Transform,
    spread: usvg::SpreadMethod,
    stops: &[usvg::Stop],
) -> Option<Paint> {
    if spread != usvg::SpreadMethod::Pad || stops.len() < 2 || stops.iter().any(|s| s.opacity().get() < 1.0) {
        return None;
    }
    let stops = stops.iter().map(|s| (f64::from(s.offset().get()), rgb(s.color()))).collect();
    Some(Paint::Gradient(Gradient { kind, matrix: matrix(transform), stops }))
}

fn stroke_look(stroke: &usvg::Stroke) -> StrokeLook {
    StrokeLook {
        width: f64::from(stroke.width().get()),
        dashes: stroke.dasharray().map(|d| d.iter().map(|v| f64::from(*v)).collect()).unwrap_or_default(),
        dash_offset: f64::from(stroke.dashoffset()),
        cap: match stroke.linecap() {
            usvg::LineCap::Butt => 0,
            usvg::LineCap::Round => 1,
            usvg::LineCap::Square => 2,
        },
        join: match stroke.linejoin() {
            usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => 0,
            usvg::LineJoin::Round => 1,
            usvg::LineJoin::Bevel => 2,
        },
        miter_limit: f64::from(stroke.miterlimit().get()),
    }
}

fn path_parts(path: &resvg::tiny_skia::Path) -> Vec<PathPart> {
    use resvg::tiny_skia::PathSegment;
    let mut parts = Vec::new();
    let mut at = (0.0, 0.0);
    let point = |p: resvg::tiny_skia::Point| (f64::from(p.x), f64::from(p.y));
    for segment in path.segments() {
        match segment {
            PathSegment::MoveTo(p) => {
                at = point(p);
                parts.push(PathPart::Move(at.0, at.1));
            }
            PathSegment::LineTo(p) => {
                at = point(p);
                parts.push(PathPart::Line(at.0, at.1));
            }
            PathSegment::QuadTo(c, p) => {
                let ((cx, cy), (x, y)) = (point(c), point(p));
                let third = |from: f64, to: f64| from + 2.0 / 3.0 * (to - from);
                parts.push(PathPart::Curve(third(at.0, cx), third(at.1, cy), third(x, cx), third(y, cy), x, y));
                at = (x, y);
            }
            PathSegment::CubicTo(a, b, p) => {
                let ((x1, y1), (x2, y2)) = (point(a), point(b));
                at = point(p);
                parts.push(PathPart::Curve(x1, y1, x2, y2, at.0, at.1));
            }
            PathSegment::Close => parts.push(PathPart::Close),
        }
    }
    parts
}

fn matrix(t: Transform) -> [f64; 6] {
    [t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from)
}

fn rgb(color: usvg::Color) -> u32 {
    u32::from(color.red) << 16 | u32::from(color.green) << 8 | u32::from(color.blue)
}
