//! Outlines of what a picture of one figure a pixel shows above a half.
//!
//! Marching squares: where two neighbouring pixels lie on either side of a half, the
//! outline passes between them in proportion. Outlines are closed and keep what is above
//! on one hand, so that holes run the other way round. (Textbook geometry; so is leaving
//! out points after Douglas and Peucker 1973.)

/// A figure for every pixel; beyond its sides there is nought.
#[derive(Debug, Clone)]
pub(super) struct Field {
    width: usize,
    height: usize,
    values: Vec<f32>,
}

/// No edge.
const NONE: u32 = u32::MAX;

impl Field {
    /// Nought everywhere.
    pub(super) fn new(width: usize, height: usize) -> Self {
        // A rim of noughts lets every outline close.
        let (width, height) = (width + 2, height + 2);
        Self {
            width,
            height,
            values: vec![0.0; width * height],
        }
    }

    /// Sets the figure of a pixel.
    pub(super) fn set(&mut self, x: usize, y: usize, value: f32) {
        self.values[(y + 1) * self.width + x + 1] = value;
    }

    /// The outlines of all that is above a half, pixel `(x, y)` having its middle at
    /// `(x + ½, y + ½)`.
    pub(super) fn outlines(&self) -> Vec<Vec<[f64; 2]>> {
        let mut next = self.links();
        let mut outlines = Vec::new();
        for first in 0..next.len() {
            let mut outline = Vec::new();
            let mut edge = first;
            while next[edge] != NONE {
                outline.push(self.point(edge));
                edge = std::mem::replace(&mut next[edge], NONE) as usize;
            }
            if outline.len() > 2 {
                outlines.push(outline);
            }
        }
        outlines
    }

    fn is_in(&self, x: usize, y: usize) -> bool {
        self.values[y * self.width + x] >= 0.5
    }

    /// For each edge between neighbours the one to which the outline goes on. Edge `2 p`
    /// leads from pixel `p` to the right, `2 p + 1` down.
    fn links(&self) -> Vec<u32> {
        let mut next = vec![NONE; 2 * self.values.len()];
        for y in 0..self.height - 1 {
            for x in 0..self.width - 1 {
                self.link_cell(x, y, &mut next);
            }
        }
        next
    }

    fn link_cell(&self, x: usize, y: usize, next: &mut [u32]) {
        let corners = [(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)];
        let inside = corners.map(|(x, y)| self.is_in(x, y));
        if inside == [inside[0]; 4] {
            return;
        }
        let at = |x: usize, y: usize| y * self.width + x;
        let edges = [
            2 * at(x, y),
            2 * at(x + 1, y) + 1,
            2 * at(x, y + 1),
            2 * at(x, y) + 1,
        ];
        // Once round the cell: where it is left, the outline goes on to where it is
        // entered again, or, where two corners face one another, the other way.
        let mean = corners
            .map(|(x, y)| self.values[at(x, y)])
            .iter()
            .sum::<f32>()
            / 4.0;
        let leaves = |k: usize| inside[k] && !inside[(k + 1) % 4];
        let enters = |k: usize| !inside[k] && inside[(k + 1) % 4];
        for from in (0..4).filter(|k| leaves(*k)) {
            let on = |j: usize| {
                if mean >= 0.5 {
                    (from + j) % 4
                } else {
                    (from + 4 - j) % 4
                }
            };
            if let Some(to) = (1..4).map(on).find(|k| enters(*k)) {
                next[edges[from]] = edges[to] as u32;
            }
        }
    }

    fn point(&self, edge: usize) -> [f64; 2] {
        let pixel = edge / 2;
        let other = pixel
            + if edge.is_multiple_of(2) {
                1
            } else {
                self.width
            };
        let (a, b) = (self.values[pixel], self.values[other]);
        let share = f64::from(((0.5 - a) / (b - a)).clamp(0.0, 1.0));
        let (x, y) = ((pixel % self.width) as f64, (pixel / self.width) as f64);
        if edge.is_multiple_of(2) {
            return [x - 0.5 + share, y - 0.5];
        }
        [x - 0.5, y - 0.5 + share]
    }
}

/// What a closed outline encloses; holes count below nought.
pub(super) fn area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    let pairs = outline.iter().zip(next);
    pairs.map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
}

/// The closed outline without the points that it passes within `tolerance` anyway.
pub(super) fn plainer(outline: &[[f64; 2]], tolerance: f64) -> Vec<[f64; 2]> {
    let Some(&first) = outline.first() else {
        return Vec::new();
    };
    let far = |p: &[f64; 2]| (p[0] - first[0]).hypot(p[1] - first[1]);
    let middle = (0..outline.len())
        .max_by(|a, b| far(&outline[*a]).total_cmp(&far(&outline[*b])))
        .unwrap_or(0);
    let mut ring = outline.to_vec();
    ring.push(first);
    let mut kept = vec![first];
    thin(&ring[..=middle], tolerance, &mut kept);
    thin(&ring[middle..], tolerance, &mut kept);
    kept.pop();
    kept
}

/// Adds what must be kept of a line after its first point.
fn thin(line: &[[f64; 2]], tolerance: f64, kept: &mut Vec<[f64; 2]>) {
    let [first, .., last] = line else {
        return;
    };
    let way = [last[0] - first[0], last[1] - first[1]];
    let length = way[0].hypot(way[1]).max(1e-9);
    let off =
        |p: &[f64; 2]| ((p[0] - first[0]) * way[1] - (p[1] - first[1]) * way[0]).abs() / length;
    let most = (1..line.len() - 1).max_by(|a, b| off(&line[*a]).total_cmp(&off(&line[*b])));
    match most.filter(|at| off(&line[*at]) > tolerance) {
        Some(at) => {
            thin(&line[..=at], tolerance, kept);
            thin(&line[at..], tolerance, kept);
        }
        None => kept.push(*last),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn round(x: f64, y: f64, r: f64) -> Field {
        let mut field = Field::new(60, 40);
        for (px, py) in (0..40).flat_map(|y| (0..60).map(move |x| (x, y))) {
            let off = (px as f64 + 0.5 - x).hypot(py as f64 + 0.5 - y);
            field.set(px, py, (0.5 + r - off).clamp(0.0, 1.0) as f32);
        }
        field
    }

    #[test]
    fn the_outline_of_a_round_is_a_round() {
        let outlines = round(30.2, 20.7, 12.0).outlines();
        assert_eq!(outlines.len(), 1);
        for p in &outlines[0] {
            let off = (p[0] - 30.2).hypot(p[1] - 20.7);
            assert!((off - 12.0).abs() < 0.1, "{off}");
        }
        let full = std::f64::consts::PI * 144.0;
        assert!((area(&outlines[0]).abs() / full - 1.0).abs() < 0.01);
        let few = plainer(&outlines[0], 0.1);
        assert!(few.len() < 40, "{}", few.len());
        assert!((area(&few) / area(&outlines[0]) - 1.0).abs() < 0.02);
    }

    #[test]
    fn a_hole_runs_the_other_way_round() {
        let mut field = round(30.0, 20.0, 15.0);
        for (x, y) in (15..25).flat_map(|y| (25..35).map(move |x| (x, y))) {
            field.set(x, y, 0.0);
        }
        let mut areas: Vec<f64> = field.outlines().iter().map(|o| area(o)).collect();
        areas.sort_by(f64::total_cmp);
        assert_eq!(areas.len(), 2);
        assert!(areas[0] * areas[1] < 0.0, "{areas:?}");
    }

    #[test]
    fn what_reaches_the_sides_is_closed_there() {
        let mut field = Field::new(4, 3);
        for (x, y) in (0..3).flat_map(|y| (0..4).map(move |x| (x, y))) {
            field.set(x, y, 1.0);
        }
        let outlines = field.outlines();
        assert_eq!(outlines.len(), 1);
        assert!((area(&outlines[0]).abs() - 11.5).abs() < 0.01);
        assert!(Field::new(5, 5).outlines().is_empty());
    }

    #[test]
    fn corners_that_face_one_another_leave_no_loose_end() {
        let mut field = Field::new(9, 9);
        for (x, y) in (0..9).flat_map(|y| (0..9).map(move |x| (x, y))) {
            field.set(x, y, ((x * 7 + y * 13 + x * y) % 5) as f32 / 4.0);
        }
        let links = field.links();
        let mut met = vec![0; links.len()];
        for to in links.iter().filter(|to| **to != NONE) {
            met[*to as usize] += 1;
        }
        for (edge, to) in links.iter().enumerate() {
            assert_eq!(met[edge], i32::from(*to != NONE), "edge {edge}");
        }
    }
}
