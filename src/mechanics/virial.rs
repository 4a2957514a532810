//! What other tubes would rest at, told from a tight shape without solving.
//!
//! Letters: `L` strand length, `H` rise, `F` weight, `T` pull, `B` bending energy, `u`
//! squeeze, `U` its work for each length, `w` what the contacts press on each length
//! of strand: force times radius.
//!
//! A shape at rest gains nothing by growing or shrinking as a whole. Its contacts
//! do then as much work as all else (the virial theorem):
//!
//! `Σ w L = Σ T L - F H - B + Σ U L`.
//!
//! Each length of strand is squeezed until `U'(u) = w`. So the squeeze of a shape at
//! rest tells where its contacts press, and the virial how hard they will press on
//! other tubes that lie alike: under another pull, thicker, softer. Exact where
//! all that is asked is the same shape in another size.
//!
//! Left out: that the shape itself changes. Knows no solver.

use super::fibre::work;
use super::outline::strand_lengths;
use super::segments::{minus, norm};
use super::tubes::{Shape, Squeeze, Tubes};

/// Classes into which the lengths of a strand are sorted by how hard they are pressed.
/// Tried: four and eight differ by less than a thousandth.
const CLASSES: usize = 4;
/// Steps to the root, at most. Both curves bend one way only: five or six do.
const MOST_STEPS: usize = 40;
/// Relative change at which a root is found.
const ENOUGH: f64 = 1e-6;

/// How a tight shape is pressed: all that is needed to tell of others that lie alike.
#[derive(Debug, Clone)]
pub struct Pressed {
    lift: f64,
    strands: Vec<PressedStrand>,
}

#[derive(Debug, Clone)]
struct PressedStrand {
    length: f64,
    /// Bending energy for each unit of bending stiffness.
    bend: f64,
    /// Mean of the free radius.
    radius: f64,
    classes: Vec<Class>,
}

/// A share of a strand that is pressed alike.
#[derive(Debug, Clone, Copy)]
struct Class {
    squeeze: f64,
    /// `w` in the shape that is known.
    press: f64,
}

/// What tubes that lie alike rest at, all in their own diameters.
#[derive(Debug, Clone, PartialEq)]
pub struct Resized {
    /// Widths over those of the known shape: the strands take as much of the room.
    pub width: f64,
    /// Rise over that of the known shape: by the work of the contacts, which is what the
    /// energy gains.
    pub rise: f64,
    /// Section of each strand, over that of the free one.
    pub section: Vec<f64>,
    /// Section of each strand, over the one in the known shape.
    pub grown: Vec<f64>,
}

impl Pressed {
    /// How the contacts press in this shape at rest of these tubes.
    pub fn of(tubes: &Tubes, shape: &Shape) -> Self {
        let lengths = strand_lengths(tubes, shape);
        let strand = |(i, &length): (usize, &f64)| PressedStrand {
            length,
            bend: bend(tubes, shape, i, length),
            radius: row(tubes, i, &tubes.radius).iter().sum::<f64>() / tubes.nodes as f64,
            classes: classes(
                tubes.squeeze[i],
                tubes.pull[i],
                row(tubes, i, &shape.squeeze),
            ),
        };
        let mut pressed = Self {
            lift: shape.lift,
            strands: lengths.iter().enumerate().map(strand).collect(),
        };
        pressed.press_hard_strands(tubes);
        pressed
    }

    /// What hard strands bear does not show in their squeeze: they get evenly what
    /// the virial leaves for them.
    fn press_hard_strands(&mut self, tubes: &Tubes) {
        let known: f64 = self.over_classes(tubes, |_, squeeze, class| {
            class.press - work(squeeze, 0.0, class.squeeze).held
        });
        let is_hard = |i: usize| tubes.squeeze[i] == Squeeze::Hard;
        let all = self.strands.iter().enumerate();
        let length: f64 = all
            .filter(|(i, _)| is_hard(*i))
            .map(|(_, s)| s.length)
            .sum();
        let left = (self.drawn(tubes) - known).max(0.0) / length;
        for (i, strand) in self.strands.iter_mut().enumerate() {
            if is_hard(i) {
                strand.classes.iter_mut().for_each(|c| c.press = left);
            }
        }
    }

    /// `Σ T L - F H - B`: what the contacts hold.
    fn drawn(&self, tubes: &Tubes) -> f64 {
        let along =
            |(i, s): (usize, &PressedStrand)| tubes.pull[i] * s.length - tubes.bending[i] * s.bend;
        let strands = self.strands.iter().enumerate().map(along).sum::<f64>();
        strands - tubes.weight * self.lift
    }

    fn over_classes(&self, tubes: &Tubes, figure: impl Fn(usize, Squeeze, &Class) -> f64) -> f64 {
        let strand = |(i, s): (usize, &PressedStrand)| {
            let sum: f64 = s
                .classes
                .iter()
                .map(|c| figure(i, tubes.squeeze[i], c))
                .sum();
            sum * s.length / s.classes.len() as f64
        };
        self.strands.iter().enumerate().map(strand).sum()
    }

    /// These tubes, which have as many strands, in the same shape but for its size.
    ///
    /// `None` where that cannot be: other strands, nothing that holds against the
    /// weight. Only the first node of each strand is looked at.
    pub fn resized(&self, tubes: &Tubes) -> Option<Resized> {
        if tubes.strands != self.strands.len() {
            return None;
        }
        let times = self.pressed_times(tubes)?;
        let mut sums = Sums::default();
        let (mut section, mut grown) = (Vec::new(), Vec::new());
        for (i, strand) in self.strands.iter().enumerate() {
            let radius = tubes.radius[i * tubes.nodes];
            let [own, over] = sums.add(strand, radius, |class| {
                squeeze_under(tubes.squeeze[i], tubes.pull[i], times * class.press)
            });
            section.push(own);
            grown.push(over);
        }
        Some(Resized {
            width: (sums.section / sums.section_before).sqrt(),
            rise: sums.grown_by_press / sums.press,
            section,
            grown,
        })
    }

    /// How many times as hard the contacts press, by the virial.
    fn pressed_times(&self, tubes: &Tubes) -> Option<f64> {
        let drawn = self.drawn(tubes);
        if drawn <= 0.0 {
            return None;
        }
        let mut times = 1.0;
        for _ in 0..MOST_STEPS {
            let (mut excess, mut slope) = (-drawn, 0.0);
            for (i, strand) in self.strands.iter().enumerate() {
                let share = strand.length / strand.classes.len() as f64;
                for class in &strand.classes {
                    let press = times * class.press;
                    let u = squeeze_under(tubes.squeeze[i], tubes.pull[i], press);
                    let at = work(tubes.squeeze[i], tubes.pull[i], u);
                    excess += share * (press - at.held);
                    let gives = if at.curve > 0.0 {
                        at.slope / at.curve
                    } else {
                        0.0
                    };
                    slope += share * class.press * (1.0 - gives);
                }
            }
            let step = excess / slope;
            times = if step < times {
                times - step
            } else {
                0.5 * times
            };
            if step.abs() < ENOUGH * times {
                return Some(times);
            }
        }
        None
    }
}

/// What is added up over all lengths.
#[derive(Debug, Default)]
struct Sums {
    press: f64,
    grown_by_press: f64,
    section: f64,
    section_before: f64,
}

impl Sums {
    /// One strand, `radius` thick now and squeezed class by class: its section over
    /// the free one, and over the one before.
    fn add(
        &mut self,
        strand: &PressedStrand,
        radius: f64,
        squeeze: impl Fn(&Class) -> f64,
    ) -> [f64; 2] {
        let share = strand.length / strand.classes.len() as f64;
        let (mut now, mut before) = (0.0, 0.0);
        for class in &strand.classes {
            let u = squeeze(class);
            let grown = radius / strand.radius * (class.squeeze - u).exp();
            self.press += share * class.press;
            self.grown_by_press += share * class.press * grown;
            now += (-2.0 * u).exp();
            before += (-2.0 * class.squeeze).exp();
        }
        let [ours, old] = [
            radius * radius * now,
            strand.radius * strand.radius * before,
        ];
        self.section += share * ours;
        self.section_before += share * old;
        [now / strand.classes.len() as f64, ours / old]
    }
}

fn row<'a>(tubes: &Tubes, strand: usize, nodes: &'a [f64]) -> &'a [f64] {
    &nodes[strand * tubes.nodes..(strand + 1) * tubes.nodes]
}

/// Nodes sorted into classes of equal length by their squeeze.
fn classes(squeeze: Squeeze, pull: f64, nodes: &[f64]) -> Vec<Class> {
    let mut nodes = nodes.to_vec();
    nodes.sort_by(f64::total_cmp);
    let count = CLASSES.min(nodes.len());
    let class = |k: usize| {
        let those = &nodes[k * nodes.len() / count..(k + 1) * nodes.len() / count];
        let mean = those.iter().sum::<f64>() / those.len() as f64;
        Class {
            squeeze: mean,
            press: work(squeeze, pull, mean).slope.max(0.0),
        }
    };
    (0..count).map(class).collect()
}

/// Bending energy of a strand for each unit of stiffness: `Σ |Δd|² / (2 l³)`.
fn bend(tubes: &Tubes, shape: &Shape, strand: usize, length: f64) -> f64 {
    let points = &shape.points[strand * tubes.nodes..(strand + 1) * tubes.nodes];
    let turned = |p: &[[f64; 3]]| norm(minus(minus(p[2], p[1]), minus(p[1], p[0]))).powi(2);
    let spacing = length / tubes.nodes as f64;
    let inside: f64 = points.windows(3).map(turned).sum();
    // The two bends across the joint are taken to be as the others.
    let all = inside * tubes.nodes as f64 / (tubes.nodes as f64 - 2.0);
    all / (2.0 * spacing.powi(3))
}

/// The squeeze at which a strand holds against a press: `U'(u) = w`.
fn squeeze_under(squeeze: Squeeze, pull: f64, press: f64) -> f64 {
    let Squeeze::Fibre { stiffness, .. } = squeeze else {
        return 0.0;
    };
    // Above the root; from there Newton's steps go down to it, for U' bends upwards.
    let mut u = 0.25 * (press / (std::f64::consts::FRAC_PI_2 * stiffness)).ln_1p();
    for _ in 0..MOST_STEPS {
        let at = work(squeeze, pull, u);
        let step = (at.slope - press) / at.curve;
        u -= step;
        if step.abs() < ENOUGH {
            break;
        }
    }
    u
}

#[cfg(test)]
mod tests {
    use super::super::spiral::round_spiral;
    use super::super::{Progress, Schedule, silhouette, tighten};
    use super::*;

    fn tight(tubes: &Tubes, start: &Shape) -> Shape {
        let (progress, schedule) = (Progress::new(), Schedule::fine());
        tighten(tubes, start.clone(), &schedule, &progress)
            .unwrap()
            .0
    }

    fn soft(tubes: &Tubes, stiffness: f64) -> Tubes {
        let fibre = Squeeze::Fibre {
            stiffness,
            limit: 1.0,
        };
        Tubes {
            squeeze: vec![fibre; tubes.strands],
            ..tubes.clone()
        }
    }

    /// How much too wide and too high the guess is from one stiffness for another.
    fn misses(from: f64, to: f64) -> [f64; 2] {
        let (tubes, start) = round_spiral(10);
        let (known, asked) = (soft(&tubes, from), soft(&tubes, to));
        let (shape, truth) = (tight(&known, &start), tight(&asked, &start));
        let told = Pressed::of(&known, &shape).resized(&asked).unwrap();
        let width = |tubes, shape| silhouette(tubes, shape).mean;
        let wide = told.width * width(&known, &shape) / width(&asked, &truth);
        [wide - 1.0, told.rise * shape.lift / truth.lift - 1.0]
    }

    /// Prints how far off; `-- --nocapture` shows it.
    #[test]
    fn strands_softer_or_harder_make_a_cord_about_as_thick_as_told() {
        for (from, to) in [
            (1e6, 10.0),
            (1e6, 1.0),
            (1e6, 0.3),
            (3.0, 1.0),
            (1.0, 3.0),
            (1.0, 1e6),
        ] {
            let [wide, high] = misses(from, to);
            println!("{from} to {to}: width {wide:+.4}, rise {high:+.4}");
            assert!(wide.abs() < 0.01, "{from} to {to}: width {wide}");
            assert!(high.abs() < 0.03, "{from} to {to}: rise {high}");
        }
    }

    #[test]
    fn the_same_tubes_are_told_as_they_are() {
        let (tubes, start) = round_spiral(10);
        for tubes in [soft(&tubes, 1.0), tubes] {
            let shape = tight(&tubes, &start);
            let told = Pressed::of(&tubes, &shape).resized(&tubes).unwrap();
            for size in [told.width, told.rise] {
                assert!((size - 1.0).abs() < 0.005, "{size}");
            }
        }
    }

    /// All forces twice as large: only the fibre notices.
    #[test]
    fn more_force_squeezes_as_softer_fibre_does() {
        let (tubes, start) = round_spiral(10);
        let known = soft(&tubes, 1.0);
        let shape = tight(&known, &start);
        let pressed = Pressed::of(&known, &shape);
        let softer = pressed.resized(&soft(&tubes, 0.5)).unwrap();
        let times = |values: &[f64]| values.iter().map(|v| 2.0 * v).collect();
        let forced = Tubes {
            pull: times(&known.pull),
            bending: times(&known.bending),
            weight: 2.0 * known.weight,
            ..known
        };
        let forced = pressed.resized(&forced).unwrap();
        assert!((forced.rise / softer.rise - 1.0).abs() < 1e-6);
        assert!(forced.width < 0.99);
    }

    #[test]
    fn thicker_tubes_are_told_thicker_by_as_much() {
        let (tubes, start) = round_spiral(10);
        let pressed = Pressed::of(&tubes, &tight(&tubes, &start));
        let thick = Tubes {
            radius: tubes.radius.iter().map(|r| 1.3 * r).collect(),
            ..tubes
        };
        let told = pressed.resized(&thick).unwrap();
        for size in [told.width, told.rise] {
            assert!((size / 1.3 - 1.0).abs() < 1e-6, "{size}");
        }
    }

    #[test]
    fn what_the_weight_pulls_through_is_not_told() {
        let (tubes, start) = round_spiral(7);
        let pressed = Pressed::of(&tubes, &tight(&tubes, &start));
        let heavy = Tubes {
            weight: 50.0,
            ..tubes
        };
        assert_eq!(pressed.resized(&heavy), None);
    }
}
