//! Closed polygons: areas, insides, and where they pass a height.

/// Where polygons pass a height.
pub(super) fn passes<'a>(polygons: impl Iterator<Item = &'a [[f64; 2]]>, height: f64) -> Vec<f64> {
    let mut passes = Vec::new();
    for polygon in polygons {
        let after = polygon.iter().cycle().skip(1);
        for (p, q) in polygon.iter().zip(after) {
            if (p[1] > height) != (q[1] > height) {
                passes.push((q[0] - p[0]) * (height - p[1]) / (q[1] - p[1]) + p[0]);
            }
        }
    }
    passes
}

/// Lowest and highest of both coordinates.
pub(super) fn bounds(polygon: &[[f64; 2]]) -> [[f64; 2]; 2] {
    polygon
        .iter()
        .fold([[f64::MAX; 2], [f64::MIN; 2]], |[low, high], p| {
            [
                [low[0].min(p[0]), low[1].min(p[1])],
                [high[0].max(p[0]), high[1].max(p[1])],
            ]
        })
}

pub(super) fn is_inside(polygon: &[[f64; 2]], at: [f64; 2]) -> bool {
    let mut inside = false;
    let mut last = polygon.len().saturating_sub(1);
    for (k, p) in polygon.iter().enumerate() {
        let q = polygon[last];
        let spans = (p[1] > at[1]) != (q[1] > at[1]);
        if spans && at[0] < (q[0] - p[0]) * (at[1] - p[1]) / (q[1] - p[1]) + p[0] {
            inside = !inside;
        }
        last = k;
    }
    inside
}

/// Twice the area, plus against the clock.
pub(super) fn twice_area(polygon: &[[f64; 2]]) -> f64 {
    let after = polygon.iter().cycle().skip(1);
    polygon
        .iter()
        .zip(after)
        .map(|(p, q)| p[0] * q[1] - q[0] * p[1])
        .sum()
}

/// A place inside: the centre of gravity, or, where that lies outside, the middle of the
/// widest stretch at its height.
pub(super) fn inner_place(outline: &[[f64; 2]], holes: &[Vec<[f64; 2]>]) -> [f64; 2] {
    let centre = centre(outline);
    let is_clear = |at| is_inside(outline, at) && !holes.iter().any(|hole| is_inside(hole, at));
    if is_clear(centre) {
        return centre;
    }
    let mut passes = passes(
        std::iter::once(outline).chain(holes.iter().map(Vec::as_slice)),
        centre[1],
    );
    passes.sort_by(f64::total_cmp);
    let widest = passes
        .chunks_exact(2)
        .max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
    widest.map_or(centre, |pair| [0.5 * (pair[0] + pair[1]), centre[1]])
}

fn centre(polygon: &[[f64; 2]]) -> [f64; 2] {
    let origin = polygon.first().copied().unwrap_or_default();
    let after = polygon.iter().cycle().skip(1);
    let (mut sum, mut area) = ([0.0; 2], 0.0);
    for (p, q) in polygon.iter().zip(after) {
        let [p, q] = [p, q].map(|v| [v[0] - origin[0], v[1] - origin[1]]);
        let cross = p[0] * q[1] - q[0] * p[1];
        area += cross;
        for d in 0..2 {
            sum[d] += (p[d] + q[d]) * cross;
        }
    }
    if area.abs() < 1e-15 {
        return origin;
    }
    [0, 1].map(|d: usize| origin[d] + sum[d] / (3.0 * area))
}
