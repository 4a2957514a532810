//! A strand as drawn thread: shaded across, with its twist, its ends side by side.
//!
//! Tones across a round strand lit from the upper left are tried, not computed:
//! 62, 103, 109, 88 and 52 per cent of its colour from side to side.

use eframe::egui::epaint::Mesh;
use eframe::egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Vec2};

use crate::app::stitch;
use crate::app::theme::Theme;
use crate::material::{Appearance, Colour, Weave};

/// Where across a strand a tone stands, and how bright it is.
const TONES: [(f32, f32); 5] = [
    (-1.0, 0.62),
    (-0.5, 1.03),
    (-0.1, 1.09),
    (0.5, 0.88),
    (1.0, 0.52),
];

/// Thinner than this, ends held together are drawn as one, points.
const LEAST_END: f32 = 2.4;

/// What is drawn of a strand besides its course.
#[derive(Debug, Clone, Copy)]
pub(super) struct Yarn<'a> {
    /// Colours from side to side.
    pub(super) colours: &'a [Colour],
    /// Ends held together.
    pub(super) ends: u16,
    /// Its surface.
    pub(super) look: &'a Appearance,
}

/// egui's form of a thread's colour.
pub(crate) fn colour32(colour: Colour) -> Color32 {
    let [r, g, b] = colour.0;
    Color32::from_rgb(r, g, b)
}

/// A short piece of a strand filling `rect`, as it stands in lists.
pub fn strand_swatch(
    painter: &Painter,
    rect: Rect,
    colours: &[Colour],
    ends: u16,
    look: &Appearance,
    theme: &Theme,
) {
    let yarn = Yarn {
        colours,
        ends,
        look,
    };
    let path = [rect.left_center(), rect.right_center()];
    yarn.lay(painter, &path, rect.height(), theme);
}

impl Yarn<'_> {
    /// Draws it along `path`, `width` wide, the far end rounded.
    pub(super) fn lay(&self, painter: &Painter, path: &[Pos2], width: f32, theme: &Theme) {
        let most = (width / LEAST_END).floor().max(1.0) as usize;
        let wanted = usize::from(self.ends).max(self.colours.len());
        let count = wanted.clamp(1, most);
        let each = width / count as f32;
        for k in 0..count {
            let aside = (k as f32 + 0.5) * each - width / 2.0;
            let colour = self.colour(k, count);
            let course = offset(path, aside);
            // By night pale rims between ends would melt them into one.
            let rim = if count > 1 {
                colour.lerp_to_gamma(Color32::BLACK, 0.55)
            } else {
                rim_colour(colour, theme)
            };
            self.end(painter, &course, each, colour, rim);
        }
    }

    /// The colour of end `k` of `count` drawn.
    fn colour(&self, k: usize, count: usize) -> Color32 {
        let at = k * self.colours.len() / count;
        self.colours.get(at).map_or(Color32::GRAY, |c| colour32(*c))
    }

    fn end(&self, painter: &Painter, path: &[Pos2], width: f32, colour: Color32, rim: Color32) {
        let course = rounded(path, width);
        painter.add(Shape::mesh(tube(&course, colour)));
        let mut lines = Vec::new();
        self.twist(&mut lines, path, width, colour);
        painter.extend(lines);
        let side = |sign: f32| {
            course
                .iter()
                .map(move |c| c.at + sign * c.half * c.aside)
                .collect::<Vec<_>>()
        };
        let mut outline = side(-1.0);
        outline.extend(side(1.0).into_iter().rev());
        painter.add(Shape::line(outline, Stroke::new(0.9, rim)));
    }

    /// Lines of twist or weave across the strand.
    fn twist(&self, lines: &mut Vec<Shape>, path: &[Pos2], width: f32, colour: Color32) {
        let Some(weave) = twist_lines(self.look) else {
            return;
        };
        let whole = stitch::length(path);
        let apart = (weave.apart * width).max(2.2);
        let stroke = Stroke::new(weave.width.min(0.25 * width), on(colour, weave.strength));
        let slant = weave.slant * width;
        let mut d = apart / 2.0;
        while d < whole {
            for sign in weave.ways {
                let from = d - sign * slant / 2.0;
                let to = d + sign * slant / 2.0;
                if let (Some(a), Some(b)) =
                    (spot(path, from, -width / 2.0), spot(path, to, width / 2.0))
                {
                    lines.push(Shape::line_segment([a, b], stroke));
                }
            }
            d += apart;
        }
    }
}

/// How twist shows: distances in widths of the strand, strength as alpha.
struct TwistLines {
    apart: f32,
    slant: f32,
    width: f32,
    strength: f32,
    /// Which way it leans: a Z lies like the middle of that letter on a strand
    /// standing upright.
    ways: &'static [f32],
}

fn twist_lines(look: &Appearance) -> Option<TwistLines> {
    let lean: &[f32] = if look.twist < 0.0 { &[-1.0] } else { &[1.0] };
    let steep = (look.twist.abs().max(12.0)).to_radians().tan() as f32;
    let pitch = std::f32::consts::PI / steep / f32::from(look.plies.max(1));
    match look.weave {
        Weave::Plied => Some(TwistLines {
            apart: pitch.clamp(0.55, 1.3),
            slant: (1.0 / steep).clamp(0.4, 1.3),
            width: 1.3,
            strength: 0.26,
            ways: lean,
        }),
        Weave::Sheath => Some(TwistLines {
            apart: 0.42,
            slant: 0.5,
            width: 1.0,
            strength: 0.15,
            ways: &[1.0],
        }),
        Weave::Foil => Some(TwistLines {
            apart: 0.5,
            slant: 0.6,
            width: 0.9,
            strength: 0.22,
            ways: &[1.0, -1.0],
        }),
        Weave::Pile => Some(TwistLines {
            apart: 0.22,
            slant: 0.12,
            width: 1.0,
            strength: 0.18,
            ways: &[1.0, -1.0],
        }),
        Weave::Beads => Some(TwistLines {
            apart: 0.7,
            slant: 0.0,
            width: 1.2,
            strength: 0.3,
            ways: &[1.0],
        }),
        Weave::Flat | Weave::Solid => None,
    }
}

/// A line that shows on a colour: dark on light thread, light on dark.
fn on(colour: Color32, strength: f32) -> Color32 {
    let bright = f32::from(colour.r()) + 1.3 * f32::from(colour.g()) + 0.6 * f32::from(colour.b());
    if bright < 150.0 {
        return Color32::WHITE.gamma_multiply(strength * 0.6);
    }
    Color32::BLACK.gamma_multiply(strength)
}

/// The rim parts a strand from any ground.
fn rim_colour(colour: Color32, theme: &Theme) -> Color32 {
    if theme.is_night() {
        return colour.lerp_to_gamma(Color32::WHITE, 0.45);
    }
    colour.lerp_to_gamma(Color32::BLACK, 0.55)
}

/// A colour at a share of its brightness, over one as well.
fn toned(colour: Color32, share: f32) -> Color32 {
    if share <= 1.0 {
        return colour.lerp_to_gamma(Color32::BLACK, 1.0 - share);
    }
    // A black thread has a sheen too; a plain factor would leave it flat.
    colour.lerp_to_gamma(Color32::WHITE, 1.6 * (share - 1.0))
}

/// A point of a strand's course with the way across.
struct Cross {
    at: Pos2,
    aside: Vec2,
    half: f32,
}

/// The course with its far end rounded off.
fn rounded(path: &[Pos2], width: f32) -> Vec<Cross> {
    let whole = stitch::length(path);
    let corner = (0.3 * width).min(0.3 * whole);
    let mut course = stitch::stretch(path, 0.0, whole - corner);
    course.extend((1..=5).filter_map(|k| {
        let d = whole - corner + corner * k as f32 / 5.0;
        spot(path, d, 0.0)
    }));
    let mut walked = 0.0;
    (0..course.len())
        .map(|k| {
            if k > 0 {
                walked += course[k - 1].distance(course[k]);
            }
            let into = ((walked - (whole - corner)) / corner).clamp(0.0, 1.0);
            let share = 0.62 + 0.38 * (1.0 - into * into).max(0.0).sqrt();
            Cross {
                at: course[k],
                aside: across(&course, k),
                half: width / 2.0 * share,
            }
        })
        .collect()
}

fn tube(course: &[Cross], colour: Color32) -> Mesh {
    let mut mesh = Mesh::default();
    for cross in course {
        for (place, tone) in TONES {
            let at = cross.at + place * cross.half * cross.aside;
            mesh.colored_vertex(at, toned(colour, tone));
        }
    }
    let wide = TONES.len() as u32;
    for row in 1..course.len() as u32 {
        for column in 1..wide {
            let corner = row * wide + column;
            mesh.add_triangle(corner, corner - 1, corner - wide);
            mesh.add_triangle(corner - wide, corner - 1, corner - wide - 1);
        }
    }
    mesh
}

/// The unit vector to the right of the way at point `k`.
fn across(path: &[Pos2], k: usize) -> Vec2 {
    let before = path[k.saturating_sub(1)];
    let after = path[(k + 1).min(path.len() - 1)];
    let way = (after - before).normalized();
    Vec2::new(-way.y, way.x)
}

fn offset(path: &[Pos2], aside: f32) -> Vec<Pos2> {
    (0..path.len())
        .map(|k| path[k] + aside * across(path, k))
        .collect()
}

/// The point `along` a path and `aside` to its right, if the path is that long.
fn spot(path: &[Pos2], along: f32, aside: f32) -> Option<Pos2> {
    let mut walked = 0.0;
    for k in 1..path.len() {
        let piece = path[k - 1].distance(path[k]);
        if along >= walked && along <= walked + piece + 1e-3 && piece > 0.0 {
            let way = (path[k] - path[k - 1]) / piece;
            let at = path[k - 1] + (along - walked) * way;
            return Some(at + aside * Vec2::new(-way.y, way.x));
        }
        walked += piece;
    }
    None
}

#[cfg(test)]
mod tests {
    use eframe::egui::pos2;

    use super::*;

    #[test]
    fn a_spot_to_the_right_of_an_upright_strand_lies_to_the_right() {
        let upright = [pos2(0.0, 10.0), pos2(0.0, 0.0)];
        let spot = spot(&upright, 4.0, 2.0).unwrap();
        assert!(spot.distance(pos2(2.0, 6.0)) < 1e-4, "{spot:?}");
        assert!(super::spot(&upright, 11.0, 0.0).is_none());
    }

    #[test]
    fn a_tube_is_as_wide_as_it_should_be() {
        let course = rounded(&[pos2(0.0, 0.0), pos2(100.0, 0.0)], 12.0);
        let mesh = tube(&course, Color32::from_rgb(90, 120, 160));
        let bounds = mesh.calc_bounds();
        assert!((bounds.height() - 12.0).abs() < 0.01, "{bounds:?}");
        assert!((bounds.width() - 100.0).abs() < 0.01, "{bounds:?}");
        assert!(mesh.is_valid());
    }

    #[test]
    fn lines_show_on_dark_and_on_light_thread() {
        let dark = on(Color32::from_rgb(20, 20, 30), 0.3);
        let light = on(Color32::from_rgb(240, 230, 210), 0.3);
        assert!(dark.r() > light.r());
    }
}
