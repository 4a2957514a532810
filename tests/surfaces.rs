//! The unrolled surface beside the strip and the mirror, for every
//! structure on the shelf.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::f64::consts::TAU;

use plaitwright::cord::{Form, Progress, Quality, Recipe, Tension, Twist, solve};
use plaitwright::drawing::{Bend, View, strands_seen};
use plaitwright::material::{self, Colour, Strand};
use plaitwright::structure::{self, MoveList};
use plaitwright::surface::{Map, Surface};

/// The cord that a list makes of satin.
fn form(list: &MoveList) -> Form {
    let satin = material::on_shelf("satin cord 2 mm, polyester").unwrap();
    let strands = vec![Strand::single(&satin.name, Colour([0; 3])); list.start.len()];
    let fibres = [satin.clone()];
    let (pull, twist) = (Tension::Slots(0.6), Twist::Free);
    let recipe = Recipe::new(list, &strands, &fibres, pull, 70.0, twist).unwrap();
    let cord = solve(&recipe, None, Quality::Coarse, &Progress::new()).unwrap();
    cord.form
}

/// Every structure with its name.
fn shelf() -> impl Iterator<Item = (String, MoveList)> {
    let named = |s: &structure::Structure| format!("{} of {}", s.name, s.strands());
    structure::shelf()
        .iter()
        .map(move |s| (named(s), s.moves.clone()))
}

fn diameter(form: &Form) -> f64 {
    2.0 * form.radius.iter().sum::<f64>() / form.radius.len() as f64
}

/// Pixels of the strip for a strand.
const ZOOM: f64 = 20.0;
/// Rolls from which a cord is looked at.
const ROLLS: u32 = 8;

/// What the strip and the map say of the same pixels.
#[derive(Debug, Default)]
struct Tally {
    pixels: usize,
    /// Differ though nothing stands in front of the place.
    differ: usize,
    /// Something that is farther from the middle, but not nearer to the eye, lies over it.
    overhung: usize,
    /// Seen through the cord, from its other side.
    through: usize,
}

/// Compares pixels `step` apart, on the middle line alone if `only_middle`.
fn compared(form: &Form, surface: &Surface, only_middle: bool, step: usize) -> Tally {
    let pixel = diameter(form) / ZOOM;
    let reach = form
        .points
        .iter()
        .map(|p| p[0].hypot(p[1]))
        .fold(0.0, f64::max)
        + diameter(form);
    let height = 2 * (reach / pixel) as usize + 9;
    let mut tally = Tally::default();
    for roll in (0..ROLLS).map(|k| TAU * f64::from(k) / f64::from(ROLLS) + 0.05) {
        let view = View {
            width: ((form.lift / pixel) as usize).clamp(40, 600),
            height,
            pixels_per_mm: 1.0 / pixel,
            start_mm: 0.3,
            roll,
            centre_x: 0.0,
            centre_y: 0.5 * height as f64,
            bend: Bend::Straight,
        };
        let seen = strands_seen(form, &view);
        let rows = if only_middle {
            height / 2..height / 2 + 1
        } else {
            0..height
        };
        for (x, y) in rows
            .step_by(step)
            .flat_map(|y| (0..view.width).step_by(step).map(move |x| (x, y)))
        {
            let Some((strand, near)) = seen.at(x, y) else {
                continue;
            };
            let up = (view.centre_y - y as f64 - 0.5) * pixel;
            let (sin, cos) = roll.sin_cos();
            let (across, away) = (up * cos + near * sin, near * cos - up * sin);
            let point = [across, away, 0.3 + (x as f64 + 0.5) * pixel];
            tally.count(surface, point, strand, diameter(form));
        }
    }
    tally
}

impl Tally {
    fn count(&mut self, surface: &Surface, point: [f64; 3], strand: usize, diameter: f64) {
        self.pixels += 1;
        let pixel = diameter / ZOOM;
        let [round, height] = surface.place_of(point);
        // The place itself, or one a pixel away: an edge may lie between.
        let around = (0..8).map(|k| (TAU * f64::from(k) / 8.0).sin_cos());
        let agrees = std::iter::once((0.0, 0.0)).chain(around).any(|(a, b)| {
            let (round, height) = (round + a * pixel / surface.girth_mm, height + b * pixel);
            surface.strand_at(round, height) == Some(strand)
        });
        if agrees {
            return;
        }
        match surface.point_at(round, height) {
            None => self.through += 1,
            Some(top) if (top[0] - point[0]).hypot(top[1] - point[1]) > 0.06 * diameter => {
                self.overhung += 1;
            }
            Some(_) => self.differ += 1,
        }
    }
}

#[test]
fn strip_and_surface_show_the_same_strand_on_every_structure() {
    for (name, list) in shelf() {
        let form = form(&list);
        let surface = Surface::new(&form).unwrap();
        let middle = compared(&form, &surface, true, 1);
        let front = compared(&form, &surface, false, 5);
        for tally in [&middle, &front] {
            assert!(tally.pixels > 100, "{name}: {tally:?}");
            assert_eq!(tally.differ, 0, "{name}: {tally:?}");
        }
        // Flat cords are looked at askew from most sides; then one strand may hide another.
        assert!(middle.overhung * 10 <= middle.pixels, "{name}: {middle:?}");
        assert!(front.overhung * 16 <= front.pixels, "{name}: {front:?}");
        assert!(middle.through * 25 <= middle.pixels, "{name}: {middle:?}");
    }
}

#[test]
fn floats_and_gaps_fill_the_surface_and_outlines_say_what_the_tubes_say() {
    for (name, list) in shelf() {
        let surface = Surface::new(&form(&list)).unwrap();
        let all = surface.girth_mm * surface.repeat_mm;
        let area: f64 = surface.floats.iter().map(|float| float.area_mm2).sum();
        let (places, mut gaps, mut wrong) = (2000, 0, 0);
        for k in 0..places {
            let even = |by: f64| (f64::from(k) * by).fract();
            let (round, height) = (even(0.754_877_67), even(0.569_840_29) * surface.repeat_mm);
            let strand = surface.strand_at(round, height);
            gaps += usize::from(strand.is_none());
            let float = surface.float_at(round, height);
            wrong += usize::from(float.map(|float| surface.floats[float].strand) != strand);
        }
        let filled = area / all + gaps as f64 / f64::from(places);
        assert!((filled - 1.0).abs() < 0.012, "{name}: {filled}");
        // Slivers finer than a twelfth of a strand may be missed.
        assert!(wrong * 50 < places as usize, "{name}: {wrong}");
    }
}

#[test]
fn neighbours_share_their_edge_alike() {
    for (name, list) in shelf() {
        let surface = Surface::new(&form(&list)).unwrap();
        for (number, float) in surface.floats.iter().enumerate() {
            for beside in &float.beside {
                let back = surface.floats[beside.float].beside.iter().find(|back| {
                    (back.float, back.rounds, back.repeats)
                        == (number, -beside.rounds, -beside.repeats)
                });
                let length = back.map(|back| back.length_mm).unwrap_or_default();
                assert!(
                    (length - beside.length_mm).abs() < 1e-6,
                    "{name}: {beside:?}"
                );
            }
        }
    }
}

#[test]
fn a_mirrored_form_has_mirrored_floats() {
    for (name, list) in shelf() {
        let form = form(&list);
        let turned = |points: &[[f64; 3]]| points.iter().map(|p| [p[0], -p[1], p[2]]).collect();
        let other = Form {
            points: turned(&form.points),
            wide: turned(&form.wide),
            turn: -form.turn,
            ..form.clone()
        };
        let [one, other] = [form, other].map(|form| Surface::new(&form).unwrap());
        assert!((one.girth_mm / other.girth_mm - 1.0).abs() < 1e-3, "{name}");
        // Slivers finer than the grid come and go.
        let areas = |surface: &Surface| -> f64 { surface.floats.iter().map(|f| f.area_mm2).sum() };
        assert!((areas(&one) / areas(&other) - 1.0).abs() < 5e-3, "{name}");
        for float in one.floats.iter().filter(|float| float.area_mm2 > 1.0) {
            let [round, height] = float.middle;
            let found = other.float_at(-round, height).map(|at| &other.floats[at]);
            let found = found.unwrap_or_else(|| panic!("{name}: {:?}", float.middle));
            assert_eq!(found.strand, float.strand, "{name}");
            let off = (found.area_mm2 - float.area_mm2).abs();
            assert!(off < 0.1 + 0.02 * float.area_mm2, "{name}: {off}");
        }
    }
}

#[test]
fn a_map_shows_the_floats_of_the_outlines() {
    let (_, list) = shelf()
        .find(|(name, _)| name == "Round spiral of 8")
        .unwrap();
    let surface = Surface::new(&form(&list)).unwrap();
    let map = Map::new(&surface, 90, 70);
    assert_eq!(map.floats.len(), 90 * 70);
    for (x, y) in (0..90)
        .step_by(7)
        .flat_map(|x| (0..70).step_by(6).map(move |y| (x, y)))
    {
        let round = (x as f64 + 0.5) / 90.0;
        let height = (69 - y) as f64 + 0.5;
        let float = surface.float_at(round, height / 70.0 * surface.repeat_mm);
        assert_eq!(map.float(x, y), float, "{x} {y}");
    }
}
