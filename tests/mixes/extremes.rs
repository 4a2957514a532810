//! What is no cord that anybody makes, but may be asked: how each ends.
//!
//! Which way each ends was tried; that none takes more than one cord may is counted.

use plaitwright::cord::{
    Cord, Form, Progress, Quality, Recipe, RecipeError, Section, SolveError, Tension, Twist, solve,
};
use plaitwright::material::{self, Colour, Strand};
use plaitwright::mechanics::{Ends, Hold, Schedule, Shape, Squeeze, TightenError, Tubes, tighten};
use plaitwright::structure::{Move, MoveList, Place, Step};

use super::{is_said_to_be_coarse, question};

const SPIRAL: &str = "Round spiral";
const FLAT: &str = "Flat, one over one";
/// Looks at nodes that one cord may take.
const MOST_LOOKS: usize = 9_000_000;

/// Which strands are thick.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Thick {
    EveryOther,
    One,
    AllButOne,
}

/// How many times as thick as satin cord each strand is, `ratio` the thick ones over the
/// thin ones.
fn uneven(strands: usize, thick: Thick, ratio: f64) -> Vec<f64> {
    let is_thick = |strand: usize| match thick {
        Thick::EveryOther => strand % 2 == 1,
        Thick::One => strand == 0,
        Thick::AllButOne => strand > 0,
    };
    let times = |strand| {
        if is_thick(strand) {
            ratio.sqrt()
        } else {
            1.0 / ratio.sqrt()
        }
    };
    (0..strands).map(times).collect()
}

/// With a weight of `share` of the pull of all strands.
fn hung(name: &str, times: &[f64], pull: f64, share: f64) -> Result<Recipe, RecipeError> {
    const NEWTONS_A_GRAM: f64 = 9.806_65e-3;
    let together = pull * times.iter().sum::<f64>();
    question(name, times, pull, share * together / NEWTONS_A_GRAM)
}

fn ends(name: &str, times: &[f64], pull: f64, quality: Quality) -> Result<Cord, SolveError> {
    let recipe = hung(name, times, pull, 0.15).unwrap();
    solve(&recipe, None, quality, &Progress::new())
}

/// A cord of this section, as its moves say, wider than its thickest strand and narrower
/// than all side by side, in bounded work.
fn assert_is_cord(what: &str, cord: &Cord, times: &[f64], section: Section) {
    let looks = cord.report.evaluations * cord.form.strands * cord.form.nodes;
    assert!(looks < MOST_LOOKS, "{what}: {looks} looks");
    assert!(cord.report.crossings_kept, "{what}");
    assert_eq!(cord.figures.section, section, "{what}");
    let most = times.iter().copied().fold(0.0, f64::max);
    let all: f64 = times.iter().sum();
    let width = cord.figures.width_rested.value / 2.0;
    assert!((most..all).contains(&width), "{what}: {width} of {all}");
}

#[test]
fn three_times_as_thick_comes_to_a_cord() {
    for (name, strands, section) in [(SPIRAL, 8, Section::Round), (FLAT, 7, Section::Flat)] {
        for thick in [Thick::EveryOther, Thick::One, Thick::AllButOne] {
            let times = uneven(strands, thick, 3.0);
            let what = format!("{name}, {thick:?}");
            // The fine band with one thin strand takes as long as all others together.
            let is_slow = name == FLAT && thick == Thick::AllButOne;
            let quality = [Quality::Fine, Quality::Coarse][usize::from(is_slow)];
            let cord = ends(name, &times, 0.6, quality).expect(&what);
            assert_is_cord(&what, &cord, &times, section);
        }
    }
}

/// A thin strand beside thick ones, or every other, still makes a round cord. Thin ones
/// on one that is thick come to no rest, or so close that the books do not balance: which
/// of the two hangs on the last digit.
#[test]
fn ten_times_as_thick_comes_to_a_round_cord_or_a_reason() {
    for thick in [Thick::EveryOther, Thick::AllButOne] {
        let times = uneven(8, thick, 10.0);
        let cord = ends(SPIRAL, &times, 0.6, Quality::Coarse).unwrap();
        assert_is_cord(&format!("{thick:?}"), &cord, &times, Section::Round);
    }
    let refused = [
        (SPIRAL, 8, Thick::One),
        (FLAT, 7, Thick::EveryOther),
        (FLAT, 7, Thick::One),
    ];
    for (name, strands, thick) in refused {
        let times = uneven(strands, thick, 10.0);
        let error = ends(name, &times, 0.6, Quality::Coarse).unwrap_err();
        let overfull = matches!(error, SolveError::Overfull { share } if share < 1.2);
        let is_of_the_mix = overfull || error == SolveError::TooUnlike;
        assert!(is_of_the_mix, "{name}, {thick:?}: {error:?}");
    }
}

#[test]
fn fifty_times_as_thick_is_said_to_be_too_unlike() {
    let cases = [
        (SPIRAL, 8, Thick::EveryOther),
        (SPIRAL, 8, Thick::AllButOne),
        (FLAT, 7, Thick::EveryOther),
        (FLAT, 7, Thick::AllButOne),
    ];
    for (name, strands, thick) in cases {
        let times = uneven(strands, thick, 50.0);
        let end = ends(name, &times, 0.6, Quality::Fine);
        assert_eq!(end.unwrap_err(), SolveError::TooUnlike, "{name}, {thick:?}");
    }
}

#[test]
fn thirty_two_strands_in_two_millimetres_make_a_cord() {
    let alike = [0.125; 32];
    let cord = ends(SPIRAL, &alike, 0.6, Quality::Coarse).unwrap();
    assert_is_cord("alike", &cord, &alike, Section::Round);
    let thickness = cord.figures.thickness_on_disc.value;
    assert!((1.8..2.3).contains(&thickness), "{thickness}");
    let differ: Vec<f64> = (0..32)
        .map(|k| 0.125 * (0.75 + f64::from(k) / 64.0))
        .collect();
    let cord = ends(SPIRAL, &differ, 0.6, Quality::Coarse).unwrap();
    assert_is_cord("all different", &cord, &differ, Section::Round);
    assert!(cord.is_of_mean_strands() && !is_said_to_be_coarse(&cord));
}

#[test]
fn no_pull_is_refused_and_hardly_any_leaves_strands_as_they_lie_free() {
    for (name, strands, section) in [(SPIRAL, 8, Section::Round), (FLAT, 7, Section::Flat)] {
        let times = vec![1.0; strands];
        let none = hung(name, &times, 0.0, 0.15).unwrap_err();
        assert!(matches!(none, RecipeError::Force { value: 0.0, .. }));
        let cord = |pull| ends(name, &times, pull, Quality::Fine).expect(name);
        let (hardly, usual) = (cord(1e-5), cord(0.6));
        assert_is_cord(name, &hardly, &times, section);
        let thickness = |cord: &Cord| cord.figures.thickness_on_disc.value;
        assert!(thickness(&hardly) > 1.02 * thickness(&usual), "{name}");
        let squeezed = hardly.form.radius.iter().map(|r| 1.0 - r);
        let most = squeezed.fold(0.0, f64::max);
        assert!(most < 0.01, "{name}: {most}");
    }
}

#[test]
fn one_strand_alone_is_refused_before_anything_is_solved() {
    let error = asked(&list(&[1], &[(1, 9), (9, 1)])).unwrap_err();
    assert!(error.to_string().contains("strand"), "{error}");
    assert!(matches!(error, RecipeError::Moves(_)), "{error:?}");
}

/// Two pairs are carried across and back again; two pairs that turn round one another.
#[test]
fn moves_that_do_not_lock_are_said_so() {
    let undone = list(
        &[32, 1, 8, 9, 16, 17, 24, 25],
        &[(17, 31), (31, 17), (9, 23), (23, 9)],
    );
    let turned = list(&[32, 1, 16, 17], &[(17, 31), (1, 15)]);
    for list in [undone, turned] {
        let recipe = asked(&list).unwrap();
        let error = solve(&recipe, None, Quality::Fine, &Progress::new()).unwrap_err();
        let is_said = matches!(
            error,
            SolveError::OnlyTwists | SolveError::SlidesApart | SolveError::Unlocked(_)
        );
        assert!(is_said, "{error:?}");
    }
}

fn list(start: &[u16], moves: &[(u16, u16)]) -> MoveList {
    let step = |&(from, to): &(u16, u16)| Step {
        moves: vec![Move {
            from: Place::slot(from),
            to: Place::slot(to),
        }],
    };
    MoveList {
        slots: 32,
        start: start.iter().map(|&slot| Place::slot(slot)).collect(),
        steps: moves.iter().map(step).collect(),
        ..MoveList::default()
    }
}

fn asked(list: &MoveList) -> Result<Recipe, RecipeError> {
    let satin = material::on_shelf("satin cord 2 mm, polyester").unwrap();
    let strands = vec![Strand::single(&satin.name, Colour([0; 3])); list.start.len()];
    let fibres = std::slice::from_ref(satin);
    let grams = 9.0 * list.start.len() as f64;
    let pull = Tension::Slots(0.6);
    Recipe::new(list, &strands, fibres, pull, grams, Twist::Free)
}

/// Hard strands of such bending, as in the spiral that is given.
fn stiff(spiral: &Form, bending: f64) -> (Tubes, Shape) {
    let (strands, nodes) = (spiral.strands, spiral.nodes);
    let tubes = Tubes {
        strands,
        nodes,
        continues: spiral.continues.clone(),
        radius: vec![0.45; strands * nodes],
        pull: vec![1.0; strands],
        bending: vec![bending; strands],
        squeeze: vec![Squeeze::Hard; strands],
        sections: Vec::new(),
        ends: Ends::Screw {
            lift: Hold::Free,
            turn: Hold::Free,
        },
        weight: 0.15 * strands as f64,
        band: 0.0,
        lengths: None,
    };
    let shape = Shape {
        points: spiral.points.iter().map(|p| p.map(|x| x / 2.0)).collect(),
        lift: spiral.lift / 2.0,
        turn: spiral.turn,
        squeeze: vec![0.0; strands * nodes],
        axes: Vec::new(),
    };
    (tubes, shape)
}

/// No fibre is so stiff: its classes end at 5. So the engine is asked, which opens the
/// spiral at ten and finds no rest in it at a thousand and more.
#[test]
fn bending_far_too_stiff_opens_the_cord_or_ends_in_bounded_work() {
    let spiral = ends(SPIRAL, &[1.0; 8], 0.6, Quality::Fine).unwrap().form;
    let most_work = 300_000.0;
    let schedule = Schedule {
        most_work,
        ..Schedule::coarse()
    };
    for bending in [10.0, 1e3, 1e6] {
        let (tubes, shape) = stiff(&spiral, bending);
        let work = match tighten(&tubes, shape, &schedule, &Progress::new()) {
            Ok((rest, report)) => {
                assert!(bending < 1e3 && rest.lift > spiral.lift / 2.0, "{bending}");
                report.work
            }
            Err(TightenError::Restless { work, .. }) => work,
            Err(other) => panic!("{bending}: {other}"),
        };
        assert!(work < 1.1 * most_work, "{bending}: {work}");
    }
}
