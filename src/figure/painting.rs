//! What it costs to draw a part of a vector picture as pixels: patterns, masks, filters, layers of their own.
//!
//! It is told from sizes before anything is drawn, in pixels painted and pixels held at once, so that a pattern or a
//! filter of absurd size is refused on every machine alike.
//!
//! Owns: the estimate. Must not know: how such a part is made into operations.

use resvg::tiny_skia::{Rect, Transform};
use resvg::usvg::{self, filter};

use super::Undrawable;
use super::limits::{MOST_HELD, MOST_PAINTING, NODE_PAINTING};

/// So many pixels a filter may move a picture.
const FARTHEST: f32 = 1e6;

/// The painting done for one picture so far.
#[derive(Default)]
pub(super) struct Painting {
    work: u64,
}

/// Where a node is drawn: how it is transformed, the pixels of the picture and of the layer, and how many are held.
#[derive(Clone, Copy)]
struct Place {
    transform: Transform,
    canvas: f64,
    layer: f64,
    held: f64,
}

impl Painting {
    /// Counts a node that is drawn as so many pixels. An error where all of it is more than is drawn.
    pub(super) fn add(&mut self, node: &usvg::Node, transform: Transform, pixels: u64) -> Result<(), Undrawable> {
        let pixels = pixels as f64;
        self.node(node, Place { transform, canvas: pixels, layer: pixels, held: pixels })
    }

    fn node(&mut self, node: &usvg::Node, place: Place) -> Result<(), Undrawable> {
        match node {
            usvg::Node::Group(group) => self.group(group, place),
            usvg::Node::Path(path) => self.path(path, place),
            usvg::Node::Text(text) => self.group(text.flattened(), place),
            usvg::Node::Image(image) => {
                let size = image.size();
                let pixels = f64::from(size.width()) * f64::from(size.height());
                // Decoded, and put through its transform.
                self.spend(pixels * 8.0 + place.layer * 8.0, place.held + pixels)
            }
        }
    }

    fn group(&mut self, group: &usvg::Group, place: Place) -> Result<(), Undrawable> {
        let mut place = Place { transform: place.transform.pre_concat(group.transform()), ..place };
        if group.should_isolate() {
            // A layer is at most as large as five times the picture either way.
            let pixels = area(group.layer_bounding_box().to_rect(), place.transform).min(place.canvas * 25.0);
            place = Place { layer: pixels, held: place.held + pixels, ..place };
            self.spend(pixels * 8.0, place.held)?;
            group.filters().iter().try_for_each(|filter| self.filter(filter, place))?;
            if let Some(clip) = group.clip_path() {
                self.clip(clip, place)?;
            }
            if let Some(mask) = group.mask() {
                self.mask(mask, place)?;
            }
        }
        self.children(group, place)
    }

    fn children(&mut self, group: &usvg::Group, place: Place) -> Result<(), Undrawable> {
        self.spend(0.0, place.held)?;
        group.children().iter().try_for_each(|node| self.node(node, place))
    }

    fn clip(&mut self, clip: &usvg::ClipPath, place: Place) -> Result<(), Undrawable> {
        let held = place.held + place.layer;
        self.spend(place.layer * 4.0, held)?;
        let inner = Place { transform: place.transform.pre_concat(clip.transform()), held, ..place };
        if let Some(outer) = clip.clip_path() {
            self.clip(outer, Place { held, ..place })?;
        }
        self.children(clip.root(), inner)
    }

    fn mask(&mut self, mask: &usvg::Mask, place: Place) -> Result<(), Undrawable> {
        let held = place.held + place.layer * 2.0;
        self.spend(place.layer * 8.0, held)?;
        let inner = Place { held, ..place };
        if let Some(outer) = mask.mask() {
            self.mask(outer, inner)?;
        }
        self.children(mask.root(), inner)
    }

    fn path(&mut self, path: &usvg::Path, place: Place) -> Result<(), Undrawable> {
        self.spend(path.data().len() as f64 * 20.0, place.held)?;
        if let Some(fill) = path.fill() {
            let pixels = area(path.bounding_box(), place.transform).min(place.layer);
            self.paint(fill.paint(), pixels, place)?;
        }
        if let Some(stroke) = path.stroke() {
            let pixels = area(path.stroke_bounding_box(), place.transform).min(place.layer);
            self.paint(stroke.paint(), pixels, place)?;
        }
        Ok(())
    }

    fn paint(&mut self, paint: &usvg::Paint, pixels: f64, place: Place) -> Result<(), Undrawable> {
        let usvg::Paint::Pattern(pattern) = paint else {
            let each = if matches!(paint, usvg::Paint::Color(_)) { 1.0 } else { 8.0 };
            return self.spend(pixels * each, place.held);
        };
        let (sx, sy) = place.transform.pre_concat(pattern.transform()).get_scale();
        let (wide, high) = (f64::from(pattern.rect().width() * sx), f64::from(pattern.rect().height() * sy));
        let tile = wide.max(1.0) * high.max(1.0);
        let held = place.held + tile;
        self.spend(pixels * 24.0 + tile * 4.0, held)?;
        let transform = Transform::from_scale(sx, sy);
        self.children(pattern.root(), Place { transform, layer: tile, held, ..place })
    }

    fn filter(&mut self, filter: &filter::Filter, place: Place) -> Result<(), Undrawable> {
        // The results of all its steps are kept to its end.
        let held = place.held + place.layer * (filter.primitives().len() as f64 + 2.0);
        self.spend(place.layer * 4.0, held)?;
        let (sx, sy) = place.transform.get_scale();
        // A step reaches at most over the whole layer.
        let reach = |radius: f32, scale: f32| f64::from(radius * scale).clamp(0.0, place.layer) * 2.0 + 1.0;
        for step in filter.primitives() {
            let each = match step.kind() {
                filter::Kind::Morphology(m) => {
                    (reach(m.radius_x().get(), sx) * reach(m.radius_y().get(), sy)).min(place.layer * 4.0)
                }
                filter::Kind::ConvolveMatrix(m) => f64::from(m.matrix().columns()) * f64::from(m.matrix().rows()) * 8.0,
                filter::Kind::Turbulence(t) => f64::from(t.num_octaves()) * 160.0,
                filter::Kind::Offset(o) => within_reach(o.dx() * sx, o.dy() * sy, 12.0)?,
                filter::Kind::DropShadow(s) => within_reach(s.dx() * sx, s.dy() * sy, 40.0)?,
                filter::Kind::GaussianBlur(_) => 40.0,
                filter::Kind::DiffuseLighting(_) | filter::Kind::SpecularLighting(_) => 80.0,
                filter::Kind::Image(image) => {
                    self.children(image.root(), Place { held, ..place })?;
                    10.0
                }
                filter::Kind::Merge(merge) => merge.inputs().len() as f64 * 10.0,
                _ => 12.0,
            };
            self.spend(place.layer * each, held)?;
        }
        Ok(())
    }

    fn spend(&mut self, work: f64, held: f64) -> Result<(), Undrawable> {
        // From floating point a number too large, and what is no number, becomes the largest.
        let whole = |n: f64| if n.is_finite() { n as u64 } else { u64::MAX };
        self.work = self.work.saturating_add(whole(work)).saturating_add(NODE_PAINTING);
        if self.work > MOST_PAINTING || whole(held) > MOST_HELD {
            return Err(Undrawable("its patterns, masks or filters are too large or too many to be drawn".to_owned()));
        }
        Ok(())
    }
}

/// What a step costs that moves pixels so far. Farther than any drawing reaches the renderer can't count.
fn within_reach(dx: f32, dy: f32, cost: f64) -> Result<f64, Undrawable> {
    if dx.abs().max(dy.abs()) < FARTHEST {
        return Ok(cost);
    }
    Err(Undrawable("a filter moves its picture farther than any drawing reaches".to_owned()))
}

/// How many pixels a box covers once it is transformed; without end where that can't be told.
fn area(bounds: Rect, transform: Transform) -> f64 {
    bounds.transform(transform).map_or(f64::INFINITY, |d| (f64::from(d.width()) + 4.0) * (f64::from(d.height()) + 4.0))
}
