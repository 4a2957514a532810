//! Gauss's integrals of the solved curves of every structure beside the whole numbers
//! of its word.

use std::f64::consts::TAU;

use plaitwright::cord::{Cord, Form, Progress, Quality, Recipe, Tension, Twist, solve};
use plaitwright::material::{self, Colour, Strand};
use plaitwright::structure::{Braid, MoveList, shelf};
use plaitwright::topology::{WorldLines, artin, linking, repeat};

use super::gauss;

/// How often as far up and down as it runs itself a strand is followed beside another.
const FAR: i32 = 12;
/// Sine of the least angle at which strands are said to cross.
const LEAST_SLANT: f64 = 0.8;
/// Fewest nodes of a piece in which a crossing is turned over.
const FEWEST_NODES: usize = 12;
/// How far an integral over closed polygons may be from a whole number.
const ROUNDING: f64 = 1e-8;

/// A solved cord with what its moves say.
struct Beside {
    name: String,
    form: Form,
    /// Cells of the form until all strands are back in their places.
    cells: usize,
    /// Turns of every two strands round each other in these, strands as in the form, as
    /// seen by somebody who turns with it.
    said: Vec<Vec<i32>>,
}

impl Beside {
    fn new(name: String, list: &MoveList, quality: Quality) -> Self {
        let fibre = material::on_shelf("satin cord 2 mm, polyester").expect("on the shelf");
        let strands = vec![Strand::single(&fibre.name, Colour([0; 3])); list.start.len()];
        let (pull, fibres) = (Tension::Slots(0.6), [fibre.clone()]);
        let recipe = Recipe::new(list, &strands, &fibres, pull, 70.0, Twist::Free);
        let cord = solve(&recipe.expect(&name), None, quality, &Progress::new());
        let cord = cord.unwrap_or_else(|error| panic!("{name}: {error}"));
        let braid = Braid::new(list).expect(&name);
        let (rounds, cells) = until_home(&braid, &cord);
        Self {
            said: said(&braid, rounds),
            form: cord.form,
            cells,
            name,
        }
    }

    fn found(&self) -> Vec<Vec<f64>> {
        let curves = gauss::ring(&self.form, self.cells);
        all_pairs(&self.form, |one, other| {
            gauss::linking(&curves[one], &curves[other])
        })
    }

    /// The two strands that differ most from what is said, and by how much.
    fn miss(&self, found: &[Vec<f64>]) -> (f64, usize, usize) {
        let strands = 0..self.form.strands;
        let pairs = strands
            .clone()
            .flat_map(|a| strands.clone().map(move |b| (a, b)));
        let off = |(a, b): (usize, usize)| (found[a][b] - f64::from(self.said[a][b])).abs();
        let misses = pairs.map(|pair| (off(pair), pair.0, pair.1));
        misses
            .max_by(|one, other| one.0.total_cmp(&other.0))
            .expect("strands")
    }
}

/// Rounds of the moves, and cells of the form, until all strands are back in their places
/// by both: cells may begin a move of the next round early.
fn until_home(braid: &Braid, cord: &Cord) -> (usize, usize) {
    let colours = repeat(braid.becomes());
    let in_cells = repeat(&cord.form.continues);
    let whole = |times: &usize| {
        let cells = (times * colours) as f64 / cord.rounds_per_repeat;
        let near = cells.round();
        (cells - near).abs() < 1e-9 && (near as usize).is_multiple_of(in_cells)
    };
    let times = (1..=colours * in_cells).find(whole).expect("some time");
    let cells = (times * colours) as f64 / cord.rounds_per_repeat;
    (times * colours, cells.round() as usize)
}

/// What the word of so many rounds says, named by strand, and as seen by somebody who
/// turns not with the disc but as the cord is laid out at the start of the solve: that
/// is so many full turns of the whole more.
fn said(braid: &Braid, rounds: usize) -> Vec<Vec<i32>> {
    let cell = WorldLines::new(braid, 1.0, 1.0).expect("crosses");
    let laid = cell.turn * cell.cells_per_round as f64 / TAU;
    let disc = -f64::from(braid.turn()) / f64::from(braid.slots());
    let more = (disc - laid) * rounds as f64;
    assert!((more - more.round()).abs() < 1e-6, "{more}");
    let places = linking(&artin(braid), braid.strands());
    let order = braid.order_after(0);
    let mut named = vec![vec![0; order.len()]; order.len()];
    for (place, &one) in order.iter().enumerate() {
        for (beside, &other) in order.iter().enumerate() {
            if one != other {
                let times = (rounds / repeat(braid.becomes())) as i32;
                named[one][other] = times * places[place][beside] + more.round() as i32;
            }
        }
    }
    named
}

/// The integral of every two strands; worked out once for those that follow in the
/// places of one another.
fn all_pairs(form: &Form, of: impl Fn(usize, usize) -> f64) -> Vec<Vec<f64>> {
    let strands = form.strands;
    let mut all = vec![vec![f64::NAN; strands]; strands];
    for (one, other) in (0..strands).flat_map(|a| (0..a).map(move |b| (a, b))) {
        if all[one][other].is_nan() {
            let value = of(one, other);
            let (mut a, mut b) = (one, other);
            while all[a][b].is_nan() {
                (all[a][b], all[b][a]) = (value, value);
                (a, b) = (form.continues[a], form.continues[b]);
            }
        }
    }
    (0..strands).for_each(|strand| all[strand][strand] = 0.0);
    all
}

/// Two nodes of different strands, nearer to each other than to those next to them: there
/// the strands cross.
#[derive(Clone, Copy)]
struct Meeting {
    nodes: [usize; 2],
    apart: f64,
    right_handed: bool,
}

/// The meetings within a cell, the nearest first.
fn meetings(form: &Form) -> Vec<Meeting> {
    let (points, nodes) = (&form.points, form.nodes);
    let way = |a: usize, b: usize| gauss::apart(points[a], points[b]);
    let inner: Vec<usize> = (0..points.len())
        .filter(|node| (2..nodes - 2).contains(&(node % nodes)))
        .collect();
    let mut found = Vec::new();
    for &a in &inner {
        for &b in inner.iter().filter(|&&b| b / nodes > a / nodes) {
            let around = [(a - 1, b), (a + 1, b), (a, b - 1), (a, b + 1)];
            if around.iter().all(|&(c, d)| way(c, d) > way(a, b)) {
                let along = |node: usize| [points[node - 1], points[node + 1]];
                let (one, other) = (along(a), along(b));
                if gauss::slant(one, other) > LEAST_SLANT {
                    found.push(Meeting {
                        nodes: [a, b],
                        apart: way(a, b),
                        right_handed: gauss::of_edges(one, other) > 0.0,
                    });
                }
            }
        }
    }
    found.sort_by(|one, other| one.apart.total_cmp(&other.apart));
    found
}

/// Three nodes drawn through another strand to its other side, in every cell.
fn turned_over(form: &Form, Meeting { nodes: [a, b], .. }: Meeting) -> Form {
    let mut turned = form.clone();
    for d in 0..3 {
        let through = 1.2 * (form.points[b][d] - form.points[a][d]);
        for node in a - 1..=a + 1 {
            turned.points[node][d] += through;
        }
    }
    turned
}

/// Two meetings that cannot make up for each other: of strands that do not follow in the
/// places of one another, or of one hand. `None` in a cell of few nodes, of which three
/// are more than a crossing.
fn two_crossings(form: &Form) -> Option<[Meeting; 2]> {
    if form.nodes < FEWEST_NODES {
        return None;
    }
    let orbit = |meeting: &Meeting| {
        let [mut a, mut b] = meeting.nodes.map(|node| node / form.nodes);
        let mut least = (a, b);
        for _ in 0..form.strands * form.strands {
            (a, b) = (form.continues[a], form.continues[b]);
            least = least.min((a.min(b), a.max(b)));
        }
        least
    };
    let all = meetings(form);
    let first = *all.first()?;
    let adds_up = |other: &&Meeting| {
        orbit(other) != orbit(&first) || other.right_handed == first.right_handed
    };
    let clear = |other: &&Meeting| {
        let shared = |node: &usize| first.nodes.iter().any(|one| one.abs_diff(*node) < 3);
        !other.nodes.iter().any(shared)
    };
    let second = all.iter().filter(clear).find(adds_up)?;
    Some([first, *second])
}

fn of_shelf(quality: Quality) -> impl Iterator<Item = Beside> {
    shelf().iter().map(move |entry| {
        let name = format!("{} of {}", entry.name, entry.strands());
        Beside::new(name, &entry.moves, quality)
    })
}

#[test]
fn gauss_integrals_of_every_solved_cord_are_the_whole_numbers_of_its_word() {
    let mut worst: f64 = 0.0;
    for beside in of_shelf(Quality::Fine) {
        let (miss, one, other) = beside.miss(&beside.found());
        let named = format!("{}, strands {one} and {other}", beside.name);
        assert!(miss < ROUNDING, "{named}: off by {miss}");
        worst = worst.max(miss);
    }
    println!("Gauss integrals of the shelf, solved fine: whole numbers to {worst:.0e}");
}

#[test]
fn gauss_integrals_of_mirrored_structures_are_those_of_their_words() {
    for entry in shelf() {
        let name = format!("{} of {}, mirrored", entry.name, entry.strands());
        let beside = Beside::new(name, &entry.moves.mirrored(), Quality::Coarse);
        let (miss, ..) = beside.miss(&beside.found());
        assert!(miss < ROUNDING, "{}: off by {miss}", beside.name);
    }
}

/// Where strands lie in one another's bends a push may go out beside the other strand and
/// change nothing: so it is in one cord.
#[test]
fn two_crossings_of_a_solved_cord_turned_over_show_in_the_integrals() {
    let (mut tried, mut missed) = (0, Vec::new());
    for beside in of_shelf(Quality::Fine) {
        let Some([one, other]) = two_crossings(&beside.form) else {
            continue;
        };
        let form = turned_over(&turned_over(&beside.form, one), other);
        let turned = Beside { form, ..beside };
        tried += 1;
        if turned.miss(&turned.found()).0 < 0.5 {
            missed.push(turned.name);
        }
    }
    println!("Two crossings turned over: noticed in all of {tried} but {missed:?}");
    assert!(tried > 30 && missed.len() < 2, "{tried}, {missed:?}");
}

/// Nothing closed, bent or turned back: the integral of a strand from where it begins
/// until it is back, with another far up and far down, tends to the whole number of the
/// word and the turn of the cord.
#[test]
fn gauss_integrals_of_open_strands_tend_to_the_word_and_the_turn_of_the_cord() {
    let mut worst: f64 = 0.0;
    for beside in of_shelf(Quality::Coarse).filter(|one| one.form.strands <= 8) {
        let (form, cells) = (&beside.form, beside.cells);
        let turn = form.turn * cells as f64 / TAU;
        let found = all_pairs(form, |one, other| {
            let own = gauss::run(form, one, 0, cells);
            let far = gauss::run(
                form,
                other,
                -FAR * cells as i32,
                (2 * FAR as usize + 1) * cells,
            );
            gauss::of_runs(&own, &far) - turn
        });
        let (miss, ..) = beside.miss(&found);
        worst = worst.max(miss);
        assert!(miss < 1e-3, "{}: off by {miss}", beside.name);
    }
    println!("Open strands: whole numbers and the turn of the cord to {worst:.0e}");
}
