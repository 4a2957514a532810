//! A page as SVG, true to size.
//!
//! Letters are drawn as outlines, each told once, so that they look the same where our
//! fonts are not installed; the words lie over them unseen, to be searched and read out.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::Arc;

use super::lettering::{Font, Run};
use super::outline::{Outline, Step};
use super::paper::{Ink, Item, Meaning, Page, Part, Pen, Picture, Words};
use crate::drawing::{Svg, png};

/// An em in the units that letters are told in.
const EM: f64 = 1000.0;

/// A page as the text of an SVG.
pub fn page_svg(title: &str, page: &Page) -> String {
    let mut svg = Svg::new(title, page.size);
    let mut letters = Letters::default();
    page.items.iter().for_each(|item| letters.collect(item));
    letters.define(&mut svg);
    let paper = Outline::rect([0.0; 2], page.size);
    shape(&mut svg, &paper, Some(Ink::WHITE), None);
    for item in &page.items {
        draw(&mut svg, item, &letters);
    }
    svg.finish()
}

/// The letters of a page, by font and glyph, in the order in which they come.
#[derive(Default)]
struct Letters {
    fonts: Vec<Arc<Font>>,
    known: BTreeMap<(usize, u32), usize>,
    outlines: Vec<Outline>,
}

impl Letters {
    fn collect(&mut self, item: &Item) {
        match item {
            Item::Words(words) => words.line.runs.iter().for_each(|run| self.learn(run)),
            Item::Part(part) => part.items.iter().for_each(|item| self.collect(item)),
            Item::Shape { .. } | Item::Picture(_) => {}
        }
    }

    fn font(&self, font: &Arc<Font>) -> Option<usize> {
        self.fonts.iter().position(|other| Arc::ptr_eq(other, font))
    }

    fn learn(&mut self, run: &Run) {
        let font = self.font(&run.font).unwrap_or_else(|| {
            self.fonts.push(Arc::clone(&run.font));
            self.fonts.len() - 1
        });
        for glyph in &run.glyphs {
            let next = self.outlines.len();
            if *self.known.entry((font, glyph.id)).or_insert(next) == next {
                let mut outline = Outline::default();
                run.font.trace(glyph.id, [0.0; 2], EM, &mut outline);
                self.outlines.push(outline);
            }
        }
    }

    fn define(&self, svg: &mut Svg) {
        svg.begin("defs", &[]);
        for (i, outline) in self.outlines.iter().enumerate() {
            let d = along(outline, |v| format!("{v:.0}"));
            svg.mark("path", &[("id", &format!("g{i}")), ("d", &d)]);
        }
        svg.end();
    }

    /// Writes the letters of a run, and how far on they end, both in a thousandth of an em.
    fn write(&self, svg: &mut Svg, run: &Run, from: f64) -> f64 {
        let font = self.font(&run.font).unwrap_or(0);
        let mut x = from;
        for glyph in &run.glyphs {
            let which = self.known.get(&(font, glyph.id));
            if let Some(which) = which.filter(|i| !self.outlines[**i].steps.is_empty()) {
                let [right, up] = glyph.offset.map(|em| em * EM);
                let (x, y) = (svg.number(x + right), svg.number(-up));
                let href = format!("#g{which}");
                svg.mark("use", &[("href", &href), ("x", &x), ("y", &y)]);
            }
            x += glyph.advance * EM;
        }
        x
    }
}

fn draw(svg: &mut Svg, item: &Item, letters: &Letters) {
    match item {
        Item::Shape { outline, fill, pen } => shape(svg, outline, *fill, *pen),
        Item::Words(set) => words(svg, set, letters),
        Item::Picture(pixels) => picture(svg, pixels),
        Item::Part(held) => part(svg, held, letters),
    }
}

fn part(svg: &mut Svg, part: &Part, letters: &Letters) {
    match &part.meaning {
        Meaning::Figure(shows) => {
            svg.begin("g", &[("role", "img"), ("aria-label", shows)]);
            svg.words("title", &[], shows);
        }
        Meaning::Title | Meaning::Head => svg.begin("g", &[("role", "heading")]),
        Meaning::Text => svg.begin("g", &[]),
        Meaning::Furniture => svg.begin("g", &[("aria-hidden", "true")]),
    }
    for item in &part.items {
        draw(svg, item, letters);
    }
    svg.end();
}

fn shape(svg: &mut Svg, outline: &Outline, fill: Option<Ink>, pen: Option<Pen>) {
    let d = along(outline, |v| svg.number(v));
    let fill = fill.map_or("none".to_owned(), grey);
    let mut attributes = vec![("d", d), ("fill", fill)];
    if let Some(pen) = pen {
        attributes.push(("stroke", grey(pen.ink)));
        attributes.push(("stroke-width", svg.number(pen.width)));
        if pen.round {
            attributes.push(("stroke-linecap", "round".to_owned()));
            attributes.push(("stroke-linejoin", "round".to_owned()));
        }
        if let Some(dash) = pen.dash {
            attributes.push(("stroke-dasharray", dash.map(|mm| svg.number(mm)).join(" ")));
        }
    }
    mark(svg, "path", &attributes);
}

fn words(svg: &mut Svg, words: &Words, letters: &Letters) {
    let [x, y] = words.at.map(|mm| svg.number(mm));
    let scale = format!("{:.6}", words.size / EM);
    let place = format!("translate({x} {y}) scale({scale})");
    let ink = grey(words.ink);
    let hidden = ("aria-hidden", "true");
    svg.begin("g", &[("transform", &place), ("fill", &ink), hidden]);
    let runs = words.line.runs.iter();
    runs.fold(0.0, |x, run| letters.write(svg, run, x));
    svg.end();
    let attributes = [
        ("x", svg.number(words.at[0])),
        ("y", svg.number(words.at[1])),
        ("font-size", svg.number(words.size)),
        ("font-family", "sans-serif".to_owned()),
        ("textLength", svg.number(words.line.width * words.size)),
        ("lengthAdjust", "spacingAndGlyphs".to_owned()),
        ("fill", "none".to_owned()),
    ];
    let attributes: Vec<(&str, &str)> = attributes.iter().map(|(k, v)| (*k, &**v)).collect();
    svg.words("text", &attributes, &words.line.text);
}

fn picture(svg: &mut Svg, picture: &Picture) {
    let per_mm = picture.raster.width as f64 / picture.size[0];
    // A picture that cannot be written as PNG is one without pixels.
    let Ok(bytes) = png(&picture.raster, per_mm) else {
        return;
    };
    let attributes = [
        ("x", svg.number(picture.at[0])),
        ("y", svg.number(picture.at[1])),
        ("width", svg.number(picture.size[0])),
        ("height", svg.number(picture.size[1])),
        ("preserveAspectRatio", "none".to_owned()),
        ("href", format!("data:image/png;base64,{}", base64(&bytes))),
    ];
    mark(svg, "image", &attributes);
}

fn mark(svg: &mut Svg, name: &str, attributes: &[(&str, String)]) {
    let attributes: Vec<(&str, &str)> = attributes.iter().map(|(k, v)| (*k, &**v)).collect();
    svg.mark(name, &attributes);
}

fn grey(Ink(light): Ink) -> String {
    format!("#{light:02x}{light:02x}{light:02x}")
}

/// What stands in `d` of an outline, its figures written by `number`.
fn along(outline: &Outline, number: impl Fn(f64) -> String) -> String {
    let mut d = String::new();
    for step in &outline.steps {
        let (letter, points): (char, &[[f64; 2]]) = match step {
            Step::To(p) => ('M', std::slice::from_ref(p)),
            Step::Line(p) => ('L', std::slice::from_ref(p)),
            Step::Curve(points) => ('C', points),
            Step::Close => ('z', &[]),
        };
        d.push(letter);
        for (i, [x, y]) in points.iter().enumerate() {
            let gap = if i > 0 { " " } else { "" };
            let _ = write!(d, "{gap}{} {}", number(*x), number(*y));
        }
    }
    d
}

/// Bytes in 64 letters: RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |i: usize| u32::from(three.get(i).copied().unwrap_or(0));
        let all = byte(0) << 16 | byte(1) << 8 | byte(2);
        for i in 0..4 {
            let six = (all >> (18 - 6 * i)) & 63;
            let is_filling = i > three.len();
            text.push(if is_filling {
                '='
            } else {
                char::from(LETTERS[six as usize])
            });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_are_written_as_the_standard_has_them() {
        // RFC 4648, section 10.
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }
}
