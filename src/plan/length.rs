//! From what is measured to the cord that is braided.
//!
//! Letters: `t` thickness of the rested cord (of a flat one the thin side), `x` what
//! it loses off the weight, in per cent and below nought.
//!
//! The inside of a ring is `π t` shorter than its middle, where the cord's length
//! runs. Cord inside a cap counts where the closure's length holds the cap; where it
//! does not, the cap's own length is that of the cord in it. Knows no strands.

use std::f64::consts::PI;

use super::Job;
use super::chain::{Chain, Step};
use super::piece::{Closure, End, Measure, Piece};
use crate::cord::{Figures, Section};
use crate::quantity::{Estimate, propagated};

/// How much more or less cord a knot takes by the hand that draws it. Our guess.
const KNOT: Estimate = Estimate {
    value: 1.0,
    low: 0.85,
    high: 1.2,
};

/// Places of the inputs that a length is worked out from.
const THICKNESS: usize = 0;
const GLUE: usize = 1;
const DRAWN: usize = 2;

/// From the measure to the rested cord that is braided at one go, mm.
pub fn length(job: &Job<'_>) -> Chain {
    let piece = job.piece;
    let mut steps = measured(&piece.measure);
    steps.extend(closed(&piece.closure));
    steps.extend(finished(piece, job.figures));
    steps.extend(several(piece));
    steps.extend(uneven(piece, job.workshop.cutting.uneven));
    Chain::of(&inputs(job), &steps)
}

/// From the rested cord to where to stop on the disc, mm.
pub fn on_disc(job: &Job<'_>, rested: &Chain) -> Chain {
    let drawn_out = Step::new(
        "drawn out by the weight",
        "off it the cord draws itself together",
        |x, sum| sum * (100.0 / (100.0 + x[1]) - 1.0),
    );
    let steps = [rested_cord(), drawn_out];
    Chain::of(&[rested.total, job.figures.off_weight], &steps)
}

/// From the rested cord to the same worked supple, mm.
pub fn worked(job: &Job<'_>, rested: &Chain) -> Chain {
    let supple = Step::new("worked supple", "wear stretches it", |x, sum| {
        sum * 0.01 * x[1]
    });
    let steps = [rested_cord(), supple];
    Chain::of(&[rested.total, job.figures.worked], &steps)
}

/// Moves for a length on the disc, mm.
pub fn moves(job: &Job<'_>, on_disc: Estimate) -> Estimate {
    propagated(&[on_disc, job.figures.moves_per_cm], |x| 0.1 * x[0] * x[1])
}

fn rested_cord() -> Step<'static> {
    Step::new("rested cord", "", |x, _sum| x[0])
}

/// What every length is worked out from.
fn inputs(job: &Job<'_>) -> [Estimate; 3] {
    let gap = job.piece.glue_gap;
    let glue = Estimate {
        value: 0.5 * gap,
        low: 0.0,
        high: gap,
    };
    [job.figures.thickness_rested, glue, KNOT]
}

fn measured(measure: &Measure) -> Vec<Step<'static>> {
    match *measure {
        Measure::Length(length) => vec![Step::exact("finished length", "", length)],
        Measure::Round { girth, ease } => vec![
            Step::exact("measured round", "", girth),
            Step::exact("ease", "room for comfort", ease),
            Step::new(
                "bend",
                "π × thickness: worn inside, the cord runs in the middle",
                |x, _| PI * x[THICKNESS],
            ),
        ],
    }
}

fn closed(closure: &Closure) -> Option<Step<'static>> {
    let name = match closure.name.as_str() {
        "" => "closure",
        name => name,
    };
    let reason = if closure.with_ends {
        "closed, with what holds the ends"
    } else {
        "closed"
    };
    (closure.adds != 0.0).then(|| Step::exact(name, reason, -closure.adds))
}

/// What the ends take, alike ones together.
fn finished<'a>(piece: &'a Piece, figures: &'a Figures) -> Vec<Step<'a>> {
    let [first, last] = piece.ends;
    if first == last {
        return end(piece, first, figures, "both ends", 2.0);
    }
    let mut steps = end(piece, first, figures, "first end", 1.0);
    steps.extend(end(piece, last, figures, "last end", 1.0));
    steps
}

/// What `count` such ends take.
fn end<'a>(
    piece: &'a Piece,
    end: End,
    figures: &Figures,
    whose: &str,
    count: f64,
) -> Vec<Step<'a>> {
    let hidden = count * piece.cap_depth;
    let in_cap = |what: &str| {
        let counted = piece.closure.with_ends;
        counted.then(|| Step::exact(format!("{whose} in the {what}"), "its depth", hidden))
    };
    let turned = count * piece.binding.width;
    match end {
        End::Cap | End::FlatCap { .. } => in_cap("cap")
            .into_iter()
            .chain([glue(whose, count)])
            .collect(),
        End::Crimp { .. } => in_cap("crimp").into_iter().collect(),
        End::Knot { thicknesses } => {
            let across = count * thicknesses * oblong(figures).sqrt();
            vec![Step::new(
                format!("{whose} knotted"),
                "in thicknesses of the cord; how hard it is drawn is our guess",
                move |x, _| across * x[THICKNESS] * x[DRAWN],
            )]
        }
        End::Tassel { .. } => vec![Step::exact(
            format!("{whose} in a tassel"),
            "hangs below what is measured: strand, no cord",
            0.0,
        )],
        End::Loop { opening } => vec![Step::new(
            format!("{whose} in a loop"),
            "the way back, round the bend, and bound to itself",
            move |x, _| count * (opening + 0.5 * PI * x[THICKNESS]) + turned,
        )],
        End::Button { .. } => vec![Step::new(
            format!("{whose} at the button"),
            "through it, and bound to itself",
            move |x, _| count * 0.5 * PI * x[THICKNESS] + turned,
        )],
        End::Bare => Vec::new(),
    }
}

fn glue<'a>(whose: &str, count: f64) -> Step<'a> {
    Step::new(
        format!("glue below {whose}"),
        "as thick as at the side, our guess",
        move |x, _| -count * x[GLUE],
    )
}

/// Width over thickness; both are off by the same share.
fn oblong(figures: &Figures) -> f64 {
    if figures.section != Section::Flat {
        return 1.0;
    }
    figures.width_rested.value / figures.thickness_rested.value
}

/// As often again, and what is lost between two pieces of one cord.
fn several(piece: &Piece) -> Vec<Step<'_>> {
    let more = f64::from(piece.from_one_cord.max(1)) - 1.0;
    if more == 0.0 {
        return Vec::new();
    }
    let between = more * piece.binding.width;
    let tassels = piece.ends.iter().filter_map(tassel);
    let undone = tassels.fold(0.0, |sum, length| sum + length);
    let mut steps = vec![
        Step::new(
            format!("{more} more of one cord"),
            "the same again",
            move |_, sum| more * sum,
        ),
        Step::exact(
            "between the pieces",
            "a width of binding, so that none comes off at the cut: our guess",
            between,
        ),
    ];
    if undone > 0.0 {
        steps.push(Step::exact(
            "unbraided between the pieces",
            "for their tassels",
            more * undone,
        ));
    }
    steps
}

fn tassel(end: &End) -> Option<f64> {
    match end {
        End::Tassel { length } => Some(*length),
        _ => None,
    }
}

/// Uneven cord at either end, but where it stays in a tassel.
fn uneven(piece: &Piece, uneven: f64) -> Option<Step<'static>> {
    let cut = piece
        .ends
        .iter()
        .filter(|end| tassel(end).is_none())
        .count();
    let mm = cut as f64 * uneven;
    let reason = "where the angle is not steady yet, cut away";
    (mm > 0.0).then(|| Step::exact("uneven cord", reason, mm))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::any::any_piece;
    use super::super::piece::{Binding, Size};
    use super::super::trial::{Trial, satin};
    use super::*;
    use crate::quantity::{Length, Shown, UnitSystem};

    /// Eight satin strands that make a cord so thick.
    fn cord(thickness: f64) -> Trial {
        let mut bench = Trial::of(vec![satin(); 8], 1.53);
        bench.figures.thickness_rested = Estimate::exact(thickness);
        bench
    }

    /// A ring of this girth and ease of cord that thick, nothing at its ends.
    fn ring(girth: f64, ease: f64, thickness: f64) -> f64 {
        let mut bench = cord(thickness);
        bench.piece.measure = Measure::Round { girth, ease };
        bench.piece.ends = [End::Bare; 2];
        bench.workshop.cutting.uneven = 0.0;
        length(&bench.job()).total.value
    }

    /// Worked out as C + ease + πD, and from a survey's mean wrist.
    #[test]
    fn a_ring_is_as_long_as_its_middle() {
        assert!((ring(154.793, 0.0, 6.0) - 173.643).abs() < 1e-3);
        for (wrist, row) in [
            (130.0, [149.0, 156.0, 162.0, 168.0, 174.0]),
            (160.0, [179.0, 186.0, 192.0, 198.0, 204.0]),
            (210.0, [229.0, 236.0, 242.0, 248.0, 254.0]),
        ] {
            for (thickness, wanted) in [2.0, 4.0, 6.0, 8.0, 10.0].into_iter().zip(row) {
                let found = ring(wrist, 13.0, thickness);
                assert!(
                    (found - wanted).abs() <= 0.6,
                    "{wrist} {thickness}: {found}"
                );
            }
        }
        // A cord of 6.80 mm round a wrist of 160 with 13 of ease closes at 194.
        assert!((ring(160.0, 13.0, 6.8) - 194.4).abs() < 0.1);
    }

    #[test]
    fn four_hundred_and_fifty_rested_are_four_hundred_and_sixty_six_on_the_disc() {
        let mut bench = cord(6.4);
        bench.piece.measure = Measure::Length(450.0);
        bench.piece.ends = [End::Bare; 2];
        bench.workshop.cutting.uneven = 0.0;
        bench.figures.off_weight = Estimate {
            value: -3.5,
            low: -5.0,
            high: -2.0,
        };
        let rested = length(&bench.job());
        assert_eq!(rested.total, Estimate::exact(450.0));
        let stop = on_disc(&bench.job(), &rested).total;
        assert!((stop.value - 466.32).abs() < 0.01, "{stop:?}");
        assert!(stop.low < 460.0 && stop.high > 473.0, "{stop:?}");
        bench.figures.moves_per_cm = Estimate::exact(12.3);
        assert!((moves(&bench.job(), stop).value - 573.6).abs() < 0.1);
    }

    #[test]
    fn cord_in_the_caps_comes_to_it_where_the_clasp_is_measured_with_them() {
        let mut bench = cord(6.4);
        bench.piece.measure = Measure::Length(450.0);
        bench.piece.cap_depth = 8.0;
        bench.piece.glue_gap = 0.0;
        bench.workshop.cutting.uneven = 0.0;
        bench.piece.closure = Closure {
            adds: 18.0,
            with_ends: true,
            ..Closure::default()
        };
        assert_eq!(length(&bench.job()).total.value, 450.0 - 18.0 + 16.0);
        bench.piece.closure.with_ends = false;
        assert_eq!(length(&bench.job()).total.value, 450.0 - 18.0);
        bench.piece.glue_gap = 0.3;
        let glued = length(&bench.job()).total;
        assert!((glued.value - (450.0 - 18.0 - 0.3)).abs() < 1e-9);
        assert!(glued.low < glued.value && glued.high > glued.value);
    }

    #[test]
    fn knots_and_loops_take_cord_and_a_tassel_takes_strand() {
        let mut bench = cord(5.0);
        bench.piece.measure = Measure::Length(100.0);
        bench.workshop.cutting.uneven = 10.0;
        let mut of = |ends| {
            bench.piece.ends = ends;
            length(&bench.job()).total.value
        };
        assert_eq!(of([End::Bare; 2]), 120.0);
        let knot = End::Knot { thicknesses: 6.0 };
        assert_eq!(of([knot, End::Bare]), 150.0);
        let binding = Binding::default().width;
        let looped = of([End::Loop { opening: 15.0 }, End::Bare]);
        assert!((looped - (120.0 + 15.0 + 2.5 * PI + binding)).abs() < 1e-9);
        let tassel = End::Tassel { length: 40.0 };
        assert_eq!(of([End::Bare, tassel]), 110.0);
    }

    #[test]
    fn three_pieces_of_one_cord_share_its_uneven_ends() {
        let mut bench = cord(6.4);
        bench.piece.measure = Measure::Length(200.0);
        bench.piece.ends = [End::Bare; 2];
        bench.piece.from_one_cord = 3;
        bench.workshop.cutting.uneven = 10.0;
        let width = bench.piece.binding.width;
        let total = length(&bench.job()).total.value;
        assert_eq!(total, 3.0 * 200.0 + 2.0 * width + 20.0);
        let size = Size {
            name: "long".into(),
            longer: 50.0,
        };
        bench.piece = bench.piece.of_size(&size);
        assert_eq!(length(&bench.job()).total.value, total + 150.0);
    }

    fn any_bench() -> impl Strategy<Value = Trial> {
        let rested = (1.0..12.0, 0.0..0.5, 0.0..0.5).prop_map(|(value, down, up)| Estimate {
            value,
            low: value * (1.0 - down),
            high: value * (1.0 + up),
        });
        (any_piece(), rested, 0.0..25.0).prop_map(|(piece, rested, uneven)| {
            let mut bench = cord(rested.value);
            bench.figures.thickness_rested = rested;
            bench.piece = piece;
            bench.workshop.cutting.uneven = uneven;
            bench
        })
    }

    /// The length shown, mm.
    fn read(shown: &Shown, units: UnitSystem) -> f64 {
        Length::read(&shown.figure, units).unwrap().mm()
    }

    proptest! {
        #[test]
        fn the_steps_add_up_to_the_length_as_they_are_shown(bench in any_bench(), inches: bool) {
            let units = if inches { UnitSystem::Inches } else { UnitSystem::Millimetres };
            let rested = length(&bench.job());
            for chain in [on_disc(&bench.job(), &rested), worked(&bench.job(), &rested), rested] {
                let (links, total) = chain.shown(units);
                let added: f64 = links.iter().map(|link| read(link, units)).sum();
                prop_assert!((added - read(&total, units)).abs() < 1e-6);
                let exact: f64 = chain.links.iter().map(|link| link.adds.value).sum();
                prop_assert!((exact - chain.total.value).abs() < 1e-9 * (1.0 + exact.abs()));
                prop_assert!(chain.total.low <= chain.total.value);
                prop_assert!(chain.total.value <= chain.total.high);
            }
        }

        #[test]
        fn a_longer_measure_never_needs_less_cord(bench in any_bench(), more in 0.0..500.0) {
            let mut longer = bench.clone();
            longer.piece.measure = bench.piece.measure.longer(more);
            let [short, long] = [&bench, &longer].map(|bench| {
                let rested = length(&bench.job());
                [rested.total, on_disc(&bench.job(), &rested).total]
            });
            for (short, long) in short.into_iter().zip(long) {
                prop_assert!(long.value >= short.value - 1e-9, "{:?} {:?}", short, long);
            }
            let pieces = f64::from(bench.piece.from_one_cord);
            let grown = long[0].value - short[0].value;
            prop_assert!((grown - pieces * more).abs() < 1e-6, "{}", grown);
        }

        #[test]
        fn a_thicker_cord_never_makes_a_ring_shorter(bench in any_bench(), more in 0.0..4.0) {
            let mut thicker = bench.clone();
            thicker.figures.thickness_rested = bench.figures.thickness_rested.plus(more);
            let of = |bench: &Trial| length(&bench.job()).total.value;
            prop_assert!(of(&thicker) >= of(&bench) - 1e-9);
        }

        #[test]
        fn a_measure_typed_in_inches_and_back_changes_nothing(bench in any_bench()) {
            let typed = |mm: f64| {
                let inches = Length::from_mm(mm).written(UnitSystem::Inches);
                Length::read(&inches, UnitSystem::Millimetres).unwrap().mm()
            };
            let mut back = bench.clone();
            back.piece.measure = match bench.piece.measure {
                Measure::Length(length) => Measure::Length(typed(length)),
                Measure::Round { girth, ease } => Measure::Round {
                    girth: typed(girth),
                    ease: typed(ease),
                },
            };
            let [before, after] = [&bench, &back].map(|bench| length(&bench.job()));
            // A ten-thousandth of an inch for each length that was typed.
            let near = 2.0 * 0.00255 * f64::from(bench.piece.from_one_cord);
            let off = before.total.value - after.total.value;
            prop_assert!(off.abs() < near, "{}", off);
        }
    }
}
