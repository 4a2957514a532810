//! The unrolled surface of a cord as a picture: one round wide, whole repeats high.
//!
//! Floats are areas in the colours of their strands, each with its strand's letter. A
//! strand of several colours is striped along its floats, each stripe as wide as its ends
//! take up. A bracket marks the repeat, a bar the size.

use std::fmt::Write;

use super::svg::{Svg, outline};
use super::thread::Thread;
use crate::cord::strand_name;
use crate::material::Colour;
use crate::surface::{Float, Surface};

/// Millimetres of paper for one of the cord.
const SCALE: f64 = 5.0;
/// Left, above, right and below the surface, mm of paper.
const MARGIN: [f64; 4] = [16.0, 12.0, 6.0, 17.0];
/// Size of the words, mm of paper.
const WORDS: f64 = 3.2;
/// The surface is at least this many times as high as it is wide, in whole repeats.
const HIGH: f64 = 0.75;
/// Most repeats shown.
const MOST_REPEATS: f64 = 12.0;
/// What lines and words are drawn in, and what shows where no strand lies.
const INK: &str = "#33302b";
const GAP: &str = "#efece4";

/// The unrolled surface as an SVG 1.1, five times life size.
///
/// `threads` says what each strand is made of, in the design's order; they begin again from
/// the first when there are fewer, and without any the cord is grey.
pub fn unrolled(surface: &Surface, threads: &[Thread], name: &str) -> String {
    let sheet = Sheet::new(surface, threads);
    let mut svg = Svg::new(&format!("{name}, unrolled"), sheet.size());
    svg.words("desc", &[], &sheet.described());
    sheet.ground(&mut svg);
    sheet.floats(&mut svg);
    sheet.edges(&mut svg);
    sheet.letters(&mut svg);
    sheet.repeat_mark(&mut svg);
    sheet.rounds(&mut svg);
    sheet.bar(&mut svg);
    svg.finish()
}

/// The surface laid out on paper.
struct Sheet<'a> {
    surface: &'a Surface,
    /// Colours of each strand with their shares.
    stripes: Vec<Vec<(Colour, f64)>>,
    repeats: f64,
}

impl<'a> Sheet<'a> {
    fn new(surface: &'a Surface, threads: &[Thread]) -> Self {
        let stripes = (0..surface.strands).map(|strand| {
            let thread = threads.get(strand % threads.len().max(1));
            stripes(thread.unwrap_or(&Thread::plain()))
        });
        let repeats = (HIGH * surface.girth_mm / surface.repeat_mm).ceil();
        Self {
            surface,
            stripes: stripes.collect(),
            repeats: repeats.clamp(1.0, MOST_REPEATS),
        }
    }

    /// Width and height of the surface on paper.
    fn area(&self) -> [f64; 2] {
        [
            SCALE * self.surface.girth_mm,
            SCALE * self.surface.repeat_mm * self.repeats,
        ]
    }

    fn size(&self) -> [f64; 2] {
        let [wide, high] = self.area();
        let [left, above, right, below] = MARGIN;
        [left + wide + right, above + high + below]
    }

    /// Where a place of the surface is on paper.
    fn place(&self, at: [f64; 2]) -> [f64; 2] {
        let high = self.area()[1];
        [
            MARGIN[0] + SCALE * self.surface.girth_mm * at[0],
            MARGIN[1] + high - SCALE * at[1],
        ]
    }

    fn described(&self) -> String {
        let surface = self.surface;
        format!(
            "The surface of a cord of {} strands, rolled out flat: once round, {:.1} mm, from \
             left to right, upwards as the cord is looked at with its beginning below. {} floats \
             in a repeat of {:.1} mm, after which everything comes again {:.3} of a round on.",
            surface.strands,
            surface.girth_mm,
            surface.floats.len(),
            surface.repeat_mm,
            surface.repeat_turn,
        )
    }

    /// What shows through gaps, and the frame that everything is cut to.
    fn ground(&self, svg: &mut Svg) {
        let [wide, high] = self.area().map(|side| svg.number(side));
        let [x, y] = [MARGIN[0], MARGIN[1]].map(|side| svg.number(side));
        let frame = [("x", &x), ("y", &y), ("width", &wide), ("height", &high)];
        let frame: Vec<(&str, &str)> = frame.iter().map(|(k, v)| (*k, v.as_str())).collect();
        svg.begin("clipPath", &[("id", "frame")]);
        svg.mark("rect", &frame);
        svg.end();
        svg.mark("rect", &[&frame[..], &[("fill", GAP)]].concat());
    }

    /// The copies of floats in the frame, with their outlines on paper.
    fn copies(&self) -> Vec<(&'a Float, [f64; 2])> {
        let heights = [0.0, self.surface.repeat_mm * self.repeats];
        let copies = self.surface.copies([0.0, 1.0], heights);
        copies
            .iter()
            .map(|copy| (&self.surface.floats[copy.float], copy.shift))
            .collect()
    }

    /// A line of the surface moved to a copy, on paper.
    fn laid(&self, line: &[[f64; 2]], shift: [f64; 2]) -> Vec<[f64; 2]> {
        line.iter()
            .map(|p| self.place([p[0] + shift[0], p[1] + shift[1]]))
            .collect()
    }

    fn floats(&self, svg: &mut Svg) {
        let copies = self.copies();
        svg.begin(
            "g",
            &[("clip-path", "url(#frame)"), ("fill-rule", "evenodd")],
        );
        for strand in 0..self.surface.strands {
            let id = format!("strand-{}", strand_name(strand));
            let colour = self.stripes[strand][0].0.to_string();
            // Hairlines of the same colour close what rounding opens between areas.
            let paint = [
                ("fill", colour.as_str()),
                ("stroke", &colour),
                ("stroke-width", "0.05"),
            ];
            svg.begin("g", &[&[("id", id.as_str())], &paint[..]].concat());
            let own = copies.iter().filter(|(float, _)| float.strand == strand);
            for (number, (float, shift)) in own.enumerate() {
                self.float(svg, float, *shift, &format!("{id}-{number}"));
            }
            svg.end();
        }
        svg.end();
    }

    fn float(&self, svg: &mut Svg, float: &Float, shift: [f64; 2], id: &str) {
        let lines = std::iter::once(&float.outline).chain(&float.holes);
        let path: String = lines
            .map(|line| outline(&self.laid(line, shift), true))
            .collect();
        let stripes = &self.stripes[float.strand];
        if stripes.len() < 2 {
            return svg.mark("path", &[("d", &path)]);
        }
        let [from, to] = across(&self.laid(&float.outline, shift));
        let [x1, y1, x2, y2] = [from[0], from[1], to[0], to[1]].map(|v| svg.number(v));
        let ends = [("x1", &x1), ("y1", &y1), ("x2", &x2), ("y2", &y2)];
        let mut all: Vec<(&str, &str)> = ends.iter().map(|(k, v)| (*k, v.as_str())).collect();
        all.extend([("id", id), ("gradientUnits", "userSpaceOnUse")]);
        svg.begin("linearGradient", &all);
        let mut begun = 0.0;
        for (colour, share) in stripes {
            for offset in [begun, begun + share] {
                let (offset, colour) = (svg.number(offset), colour.to_string());
                svg.mark("stop", &[("offset", &offset), ("stop-color", &colour)]);
            }
            begun += share;
        }
        svg.end();
        let fill = format!("url(#{id})");
        svg.mark("path", &[("d", &path), ("fill", &fill), ("stroke", "none")]);
    }

    /// Fine lines between floats.
    fn edges(&self, svg: &mut Svg) {
        let line = [("fill", "none"), ("stroke", INK), ("stroke-width", "0.18")];
        let more = [
            ("clip-path", "url(#frame)"),
            ("stroke-linejoin", "round"),
            ("id", "edges"),
        ];
        svg.begin("g", &[&line[..], &more].concat());
        let mut path = String::new();
        for (float, shift) in self.copies() {
            let edges = float.edges();
            let closed = edges.len() == 1 + float.holes.len();
            for edge in edges {
                let _ = write!(path, "{}", outline(&self.laid(edge, shift), closed));
            }
        }
        svg.mark("path", &[("d", &path)]);
        svg.end();
    }

    fn letters(&self, svg: &mut Svg) {
        let [wide, high] = self.area();
        svg.begin(
            "g",
            &[
                ("font-family", "sans-serif"),
                ("text-anchor", "middle"),
                ("id", "letters"),
            ],
        );
        for (float, shift) in self.copies() {
            let [x, y] = self.laid(&[float.middle], shift)[0];
            // As large as the float allows.
            let size = (0.45 * SCALE * float.area_mm2.sqrt()).min(1.3 * WORDS);
            let inside = (x - MARGIN[0]).min(MARGIN[0] + wide - x) > 0.4 * size
                && (y - MARGIN[1]).min(MARGIN[1] + high - y) > 0.5 * size;
            if size < 0.8 || !inside {
                continue;
            }
            let (at, down, size) = (svg.number(x), svg.number(y + 0.36 * size), svg.number(size));
            let ink = self.mean(float.strand).ink().to_string();
            let set = [
                ("x", at.as_str()),
                ("y", &down),
                ("font-size", &size),
                ("fill", &ink),
            ];
            svg.words("text", &set, &strand_name(float.strand));
        }
        svg.end();
    }

    /// The colour that most of a strand has.
    fn mean(&self, strand: usize) -> Colour {
        let most = self.stripes[strand]
            .iter()
            .max_by(|a, b| a.1.total_cmp(&b.1));
        most.map_or(Colour([128; 3]), |stripe| stripe.0)
    }

    /// A bracket along the lowest repeat, and dashes where others begin.
    fn repeat_mark(&self, svg: &mut Svg) {
        let [left, foot] = self.place([0.0, 0.0]);
        let top = self.place([0.0, self.surface.repeat_mm])[1];
        let x = left - 3.0;
        let bracket = [[left - 1.0, foot], [x, foot], [x, top], [left - 1.0, top]];
        line(svg, &bracket, "0.3");
        for number in 1..self.repeats as u32 {
            let [a, y] = self.place([0.0, self.surface.repeat_mm * f64::from(number)]);
            let b = self.place([1.0, 0.0])[0];
            line(svg, &[[a - 1.5, y], [a, y]], "0.3");
            line(svg, &[[b, y], [b + 1.5, y]], "0.3");
        }
        let middle = 0.5 * (foot + top);
        let text = format!("repeat {:.1} mm", self.surface.repeat_mm);
        let (x, y) = (svg.number(x - 2.0), svg.number(middle));
        let turned = format!("rotate(-90 {x} {y})");
        words(
            svg,
            &[
                ("x", &x),
                ("y", &y),
                ("text-anchor", "middle"),
                ("transform", &turned),
            ],
            &text,
        );
    }

    /// Quarters of the round above.
    fn rounds(&self, svg: &mut Svg) {
        let top = MARGIN[1];
        for (quarter, text) in ["0", "¼", "½", "¾", "1 round"].iter().enumerate() {
            let x = self.place([quarter as f64 / 4.0, 0.0])[0];
            line(svg, &[[x, top - 2.5], [x, top - 0.8]], "0.3");
            let anchor = if quarter == 4 { "end" } else { "middle" };
            let right = if quarter == 4 { x + 1.0 } else { x };
            let (x, y) = (svg.number(right), svg.number(top - 4.0));
            words(svg, &[("x", &x), ("y", &y), ("text-anchor", anchor)], text);
        }
    }

    /// A bar of some whole millimetres, and what else the figures are.
    fn bar(&self, svg: &mut Svg) {
        let [left, foot] = self.place([0.0, 0.0]);
        let mm = if self.surface.girth_mm > 12.0 {
            5.0
        } else {
            1.0
        };
        let (y, right) = (foot + 5.0, left + SCALE * mm);
        line(svg, &[[left, y - 1.0], [left, y + 1.0]], "0.3");
        line(svg, &[[left, y], [right, y]], "0.3");
        line(svg, &[[right, y - 1.0], [right, y + 1.0]], "0.3");
        let (x, down) = (svg.number(right + 2.0), svg.number(y + 1.1));
        words(svg, &[("x", &x), ("y", &down)], &format!("{mm:.0} mm"));
        let (x, down) = (svg.number(left), svg.number(y + 8.0));
        let girth = format!("girth {:.1} mm, {SCALE:.0} : 1", self.surface.girth_mm);
        words(svg, &[("x", &x), ("y", &down)], &girth);
    }
}

/// Colours of a thread side by side with their shares of its width.
fn stripes(thread: &Thread) -> Vec<(Colour, f64)> {
    let width = |end: &super::thread::Ends| f64::from(end.count.max(1)) * end.diameter.max(0.0);
    let all: f64 = thread.ends.iter().map(width).sum();
    let mut stripes: Vec<(Colour, f64)> = Vec::new();
    for end in &thread.ends {
        let share = if all > 0.0 { width(end) / all } else { 1.0 };
        match stripes.iter_mut().find(|stripe| stripe.0 == end.colour) {
            Some(stripe) => stripe.1 += share,
            None => stripes.push((end.colour, share)),
        }
    }
    if stripes.is_empty() {
        return self::stripes(&Thread::plain());
    }
    stripes
}

/// From one side of an area to the other, square to where it is longest.
fn across(area: &[[f64; 2]]) -> [[f64; 2]; 2] {
    let count = area.len() as f64;
    let middle = [0, 1].map(|d: usize| area.iter().map(|p| p[d]).sum::<f64>() / count);
    let (mut both, mut more) = (0.0, 0.0);
    for p in area {
        let [x, y] = [p[0] - middle[0], p[1] - middle[1]];
        both += 2.0 * x * y;
        more += x * x - y * y;
    }
    let (sin, cos) = (0.5 * f64::atan2(both, more)).sin_cos();
    let off = |p: &[f64; 2]| (p[1] - middle[1]) * cos - (p[0] - middle[0]) * sin;
    let low = area.iter().map(off).fold(f64::MAX, f64::min);
    let high = area.iter().map(off).fold(f64::MIN, f64::max);
    [low, high].map(|off| [middle[0] - sin * off, middle[1] + cos * off])
}

fn line(svg: &mut Svg, points: &[[f64; 2]], width: &str) {
    let path = outline(points, false);
    svg.mark(
        "path",
        &[
            ("d", &path),
            ("fill", "none"),
            ("stroke", INK),
            ("stroke-width", width),
        ],
    );
}

fn words(svg: &mut Svg, place: &[(&str, &str)], text: &str) {
    let size = svg.number(WORDS);
    let look = [
        ("font-family", "sans-serif"),
        ("font-size", &size),
        ("fill", INK),
    ];
    svg.words("text", &[place, &look[..]].concat(), text);
}
