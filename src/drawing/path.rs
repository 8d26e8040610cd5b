//! Paths: straight lines and cubic curves.

use super::scene::Point;

/// Control point distance for a quarter circle by one cubic is 4/3 tan(90/4).
const FULL_TURN: f64 = 360.0;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PathSegment {
    Move(Point),
    Line(Point),
    Curve(Point, Point, Point),
    Close,
}

/// A path, in millimetres.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path(pub Vec<PathSegment>);

impl Path {
    pub fn line(from: Point, to: Point) -> Self {
        Self(vec![PathSegment::Move(from), PathSegment::Line(to)])
    }

    /// An open line through points.
    pub fn through(points: &[Point]) -> Self {
        let segment = |(i, &p): (usize, &Point)| if i == 0 { PathSegment::Move(p) } else { PathSegment::Line(p) };
        Self(points.iter().enumerate().map(segment).collect())
    }

    /// A closed outline.
    pub fn polygon(points: &[Point]) -> Self {
        let mut path = Self::through(points);
        path.0.push(PathSegment::Close);
        path
    }

    pub fn rectangle(left: f64, top: f64, width: f64, height: f64) -> Self {
        let (right, bottom) = (left + width, top + height);
        Self::polygon(&[(left, top), (right, top), (right, bottom), (left, bottom)])
    }

    pub fn circle(centre: Point, radius: f64) -> Self {
        let mut path = Self::arc(centre, radius, 0.0, FULL_TURN);
        path.0.push(PathSegment::Close);
        path
    }

    /// An arc from one angle to another, degrees, against the clock from the right.
    pub fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Self {
        let pieces = ((to - from).abs() / 90.0).ceil().max(1.0) as usize;
        let step = (to - from).to_radians() / pieces as f64;
        let reach = 4.0 / 3.0 * libm::tan(step / 4.0) * radius;
        let at = |angle: f64| (centre.0 + radius * libm::cos(angle), centre.1 - radius * libm::sin(angle));
        let along = |angle: f64| (-libm::sin(angle) * reach, -libm::cos(angle) * reach);
        let mut angle = from.to_radians();
        let mut path = vec![PathSegment::Move(at(angle))];
        for _ in 0..pieces {
            let (start, end) = (at(angle), at(angle + step));
            let (out, back) = (along(angle), along(angle + step));
            path.push(PathSegment::Curve((start.0 + out.0, start.1 + out.1), (end.0 - back.0, end.1 - back.1), end));
            angle += step;
        }
        Self(path)
    }

    /// The same path with every point moved.
    pub fn mapped(&self, map: &impl Fn(Point) -> Point) -> Self {
        Self(
            self.0
                .iter()
                .map(|segment| match *segment {
                    PathSegment::Move(p) => PathSegment::Move(map(p)),
                    PathSegment::Line(p) => PathSegment::Line(map(p)),
                    PathSegment::Curve(a, b, c) => PathSegment::Curve(map(a), map(b), map(c)),
                    PathSegment::Close => PathSegment::Close,
                })
                .collect(),
        )
    }

    /// The path as runs of points: curves in 16 pieces, which is finer than a line is wide.
    pub fn runs(&self) -> Vec<Vec<Point>> {
        let mut runs: Vec<Vec<Point>> = Vec::new();
        for segment in &self.0 {
            match *segment {
                PathSegment::Move(p) => runs.push(vec![p]),
                PathSegment::Line(p) => runs.last_mut().into_iter().for_each(|run| run.push(p)),
                PathSegment::Curve(a, b, end) => {
                    let Some(run) = runs.last_mut() else { continue };
                    let Some(&start) = run.last() else { continue };
                    for i in 1..=16 {
                        let t = f64::from(i) / 16.0;
                        let u = 1.0 - t;
                        let at = |s: f64, a: f64, b: f64, e: f64| {
                            u * u * u * s + 3.0 * u * u * t * a + 3.0 * u * t * t * b + t * t * t * e
                        };
                        run.push((at(start.0, a.0, b.0, end.0), at(start.1, a.1, b.1, end.1)));
                    }
                }
                PathSegment::Close => {
                    let Some(run) = runs.last_mut() else { continue };
                    if let Some(&first) = run.first() {
                        run.push(first);
                    }
                }
            }
        }
        runs
    }
}
