//! The cord from its side as areas of even tone, in life size.
//!
//! Each strand is cut out where it is seen and filled with its darkest tone; lighter and
//! lighter areas lie on top of one another, as in a print from several blocks. Tones are
//! those of the painted picture without what is smaller than a ply; there is no ground
//! and no shadow on it.

use super::trace::{Field, area, plainer};
use super::{Svg, outline};
use crate::cord::{Form, strand_name};
use crate::drawing::cord::{Glimpse, Stage};
use crate::drawing::thread::Thread;
use crate::drawing::view::View;
use crate::material::Colour;

/// Step from tone to tone as the eye sees lightness, 0 to 1, and the most there are.
/// Tried: with larger steps a satin cord looks cut out of paper.
const STEP: f32 = 0.045;
const MOST_TONES: usize = 16;

/// Pixels for a strand diameter at which the cord is looked at.
const FINENESS: f64 = 26.0;

/// How far an outline may be moved to save points, and the smallest area kept, pixels.
const TOLERANCE: f64 = 0.12;
const CRUMB: f64 = 2.0;

/// Width of the line round each strand, strand diameters: it closes the seams between
/// neighbours and is the dark of the crevice.
const SEAM: f64 = 0.05;

/// The cord as a view has it, as the text of an SVG.
///
/// The picture is as large as what it shows: a view of 1600 pixels at 20 to the
/// millimetre becomes 80 mm wide. Threads as for
/// [`cord_picture`](crate::drawing::cord_picture); of a form that cannot be drawn the
/// picture is empty.
pub fn cord_svg(title: &str, form: &Form, threads: &[Thread], view: &View) -> String {
    let view = view.bounded();
    let size = [view.width, view.height].map(|pixels| pixels as f64 / view.pixels_per_mm);
    let mut svg = Svg::new(title, size);
    let mean = form.radius.iter().sum::<f64>() / form.radius.len().max(1) as f64;
    let finer = finer(&view, FINENESS / (2.0 * mean * view.pixels_per_mm));
    let Some(seen) = Stage::new(form).seen(threads, &finer) else {
        return svg.finish();
    };
    let prints: Vec<(u16, Print)> = seen
        .parts
        .iter()
        .map(|((strand, _), glimpses)| {
            let print = Print::new(glimpses, (seen.width, seen.height));
            (*strand, print)
        })
        .collect();
    // Whole tenths of a pixel looked at: figures stay short, and places are as fine as
    // they are known.
    let unit = 0.1 / finer.pixels_per_mm;
    svg.begin("g", &[("transform", &format!("scale({unit:.6})"))]);
    let seam = svg.number(2.0 * mean * SEAM / unit);
    svg.begin(
        "g",
        &[("stroke-width", &seam), ("stroke-linejoin", "round")],
    );
    for (_, print) in &prints {
        print.base(&mut svg);
    }
    svg.end();
    for (strand, print) in &prints {
        svg.begin("g", &[]);
        svg.words("title", &[], &strand_name(usize::from(*strand)));
        print.tones(&mut svg);
        svg.end();
    }
    svg.finish()
}

/// The same view with `times` as many pixels each way, as far as there may be.
fn finer(view: &View, times: f64) -> View {
    let most = (6e6 / (view.width * view.height) as f64).sqrt();
    let times = if times.is_finite() { times } else { 1.0 }
        .min(most)
        .max(0.01);
    let pixels = |n: usize| (n as f64 * times).ceil() as usize;
    View {
        width: pixels(view.width),
        height: pixels(view.height),
        pixels_per_mm: view.pixels_per_mm * times,
        centre_x: view.centre_x * times,
        centre_y: view.centre_y * times,
        ..*view
    }
}

/// The areas of one part of a strand, one tone over the other.
struct Print {
    /// Colour and outlines of each tone, darkest first.
    tones: Vec<(Colour, Vec<Vec<[f64; 2]>>)>,
}

impl Print {
    fn new(glimpses: &[Glimpse], size: (usize, usize)) -> Self {
        let tone = |glimpse: &Glimpse| brightness(glimpse).powf(1.0 / 2.2);
        let mut sorted: Vec<f32> = glimpses.iter().map(tone).collect();
        sorted.sort_by(f32::total_cmp);
        let at = |share: f64| sorted[((sorted.len() - 1) as f64 * share) as usize];
        let (low, high) = (at(0.02), at(0.99));
        let count = (((high - low) / STEP).ceil() as usize).clamp(1, MOST_TONES);
        let step = ((high - low) / count as f32).max(1e-3);
        let layer = |k: usize| {
            let from = low + step * k as f32;
            let mut field = Field::new(size.0, size.1);
            for glimpse in glimpses {
                let above = if k == 0 {
                    1.0
                } else {
                    0.5 + (tone(glimpse) - from) / step
                };
                field.set(glimpse.x, glimpse.y, glimpse.cover.min(above));
            }
            let within = |g: &&Glimpse| {
                let k = k as f32;
                let t = (tone(g) - low) / step;
                (t >= k || k == 0.0) && (t < k + 1.0 || k as usize == count - 1)
            };
            (mean(glimpses.iter().filter(within)), kept(&field))
        };
        Self {
            tones: (0..count).map(layer).collect(),
        }
    }

    /// The darkest tone with the seam round it.
    fn base(&self, svg: &mut Svg) {
        let (colour, outlines) = &self.tones[0];
        let seam = Colour(colour.0.map(|v| (f64::from(v) * 0.7) as u8));
        svg.mark(
            "path",
            &[
                ("fill", &colour.to_string()),
                ("stroke", &seam.to_string()),
                ("d", &path(outlines)),
            ],
        );
    }

    /// The tones over it.
    fn tones(&self, svg: &mut Svg) {
        for (colour, outlines) in self.tones[1..].iter().filter(|(_, all)| !all.is_empty()) {
            let path = path(outlines);
            svg.mark("path", &[("fill", &colour.to_string()), ("d", &path)]);
        }
    }
}

fn kept(field: &Field) -> Vec<Vec<[f64; 2]>> {
    let outlines = field.outlines().into_iter();
    let large = outlines.filter(|outline| area(outline).abs() > CRUMB);
    large.map(|outline| plainer(&outline, TOLERANCE)).collect()
}

fn path(outlines: &[Vec<[f64; 2]>]) -> String {
    let scaled = |o: &Vec<[f64; 2]>| {
        o.iter()
            .map(|p| p.map(|v| (10.0 * v).round()))
            .collect::<Vec<_>>()
    };
    outlines.iter().map(|o| outline(&scaled(o), true)).collect()
}

fn brightness(glimpse: &Glimpse) -> f32 {
    let light = glimpse.light;
    (0.2126 * light.x + 0.7152 * light.y + 0.0722 * light.z).clamp(0.0, 1.0)
}

/// The mean colour of what is seen there.
fn mean<'a>(glimpses: impl Iterator<Item = &'a Glimpse>) -> Colour {
    let mut sum = [0.0; 3];
    let mut whole = 0.0;
    for glimpse in glimpses {
        let light = [glimpse.light.x, glimpse.light.y, glimpse.light.z];
        for (sum, light) in sum.iter_mut().zip(light) {
            *sum += light.clamp(0.0, 1.0) * glimpse.cover;
        }
        whole += glimpse.cover;
    }
    Colour::from_linear(sum.map(|v| f64::from(v / f32::max(whole, 1e-6))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::{crochet, rope, satin};
    use crate::drawing::view::Bend;

    fn view() -> View {
        View {
            width: 400,
            height: 100,
            pixels_per_mm: 10.0,
            start_mm: 0.0,
            roll: 0.3,
            centre_x: 0.0,
            centre_y: 50.0,
            bend: Bend::Straight,
        }
    }

    fn threads() -> [Thread; 2] {
        [
            Thread::single(satin(), Colour([190, 40, 40])),
            Thread::single(crochet(), Colour([240, 235, 220])),
        ]
    }

    #[test]
    fn the_picture_is_in_life_size_and_names_every_strand_seen() {
        let text = cord_svg("rope", &rope(4, 16, 2.0), &threads(), &view());
        assert!(text.contains("width=\"40mm\" height=\"10mm\""), "{text}");
        for name in ["A", "B", "C", "D"] {
            assert!(text.contains(&format!("<title>{name}</title>")), "{name}");
        }
        assert!(text.len() < 120_000, "{}", text.len());
    }

    /// The areas of the darkest tones tile what the painted picture shows.
    #[test]
    fn strands_cover_together_what_the_painted_cord_covers() {
        let form = rope(4, 16, 2.0);
        let seen = Stage::new(&form).seen(&threads(), &view()).unwrap();
        let size = (seen.width, seen.height);
        let outlined: f64 = seen
            .parts
            .values()
            .map(|glimpses| Print::new(glimpses, size))
            .flat_map(|print| print.tones[0].1.clone())
            .map(|outline| area(&outline))
            .sum();
        let painted: f32 = seen.parts.values().flatten().map(|g| g.cover).sum();
        let share = outlined.abs() / f64::from(painted);
        assert!((share - 1.0).abs() < 0.02, "{share}");
    }

    /// Along the cord's middle the strand seen is the one that a cut meets nearest to the
    /// eye.
    #[test]
    fn what_is_seen_is_the_strand_nearest_to_the_eye() {
        let form = rope(4, 24, 2.0);
        let view = View {
            roll: 0.0,
            ..view()
        };
        let seen = Stage::new(&form).seen(&threads(), &view).unwrap();
        let (mut met, mut other) = (0, 0);
        for ((strand, _), glimpses) in &seen.parts {
            for glimpse in glimpses.iter().filter(|g| g.y == 50 && g.cover == 1.0) {
                let cut = crate::drawing::section(&form, (glimpse.x as f64 + 0.5) / 10.0);
                let middle = cut.iter().filter(|disc| disc.centre_mm[0].abs() < 0.9);
                let nearest = middle.max_by(|a, b| a.centre_mm[1].total_cmp(&b.centre_mm[1]));
                if let Some(disc) = nearest {
                    met += 1;
                    other += usize::from(disc.strand != usize::from(*strand));
                }
            }
        }
        // Where two strands meet, the nearer middle is not always the nearer surface.
        assert!(met > 200 && other * 20 < met, "{other} of {met}");
    }

    #[test]
    fn what_cannot_be_drawn_gives_an_empty_picture() {
        let mut form = rope(3, 8, 1.0);
        form.radius.fill(f64::NAN);
        let text = cord_svg("a", &form, &[], &view());
        assert!(
            !text.contains("path") && text.ends_with("</svg>\n"),
            "{text}"
        );
        form.radius.clear();
        assert!(cord_svg("a", &form, &[], &view()).ends_with("</svg>\n"));
    }
}
