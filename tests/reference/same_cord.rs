//! The same cord told in another way has the same figures: in a mirror, with the
//! disc turned, strands named otherwise, read from the other end, two cells as
//! one, in other units. Each is told from the shape at nearly rest: from the loose
//! start soft cords of two makes may come to other rests (tried).
//!
//! Told of a cord in which nothing is alike: two makes, one soft, a whole round.

use plaitwright::mechanics::{
    Progress, Schedule, Shape, Squeeze, Tubes, silhouette, strand_lengths, tighten,
};

use super::start::{round_spiral, screwed, tubes, world_lines};

/// Worst force left: figures are then good to five digits and more.
const TOLERANCE: f64 = 1e-5;
/// Share to which figures agree: the width is read from a finite number of sides.
const AGREE: f64 = 1e-4;

/// A round of eight strands, thick and soft by turns with thin and hard. One node
/// of each cycle is a little thicker, lest strands slide along themselves by
/// fractions of a step, which costs them nothing.
fn motley() -> (Tubes, Shape) {
    let lines = world_lines(&round_spiral(8));
    let (one, start) = tubes(&lines, 8);
    let (mut tubes, shape) = one.repeated(&start, lines.cells_per_round);
    for (number, cycle) in tubes.cycles().into_iter().enumerate() {
        let pinned = cycle[0] * tubes.nodes + 5;
        for strand in cycle {
            let first = strand * tubes.nodes;
            let nodes = first..first + tubes.nodes;
            let thick = number % 2 == 0;
            tubes.radius[nodes].fill(if thick { 0.55 } else { 0.45 });
            tubes.pull[strand] = if thick { 1.1 } else { 0.9 };
            if thick {
                tubes.squeeze[strand] = Squeeze::Fibre {
                    stiffness: 0.8,
                    limit: 0.3,
                };
            }
        }
        tubes.radius[pinned] *= 1.08;
    }
    let (shape, _) =
        tighten(&tubes, shape, &Schedule::coarse(), &Progress::new()).expect("a sound start");
    (tubes, shape)
}

/// Everything that can be asked of a shape, with lengths and forces of one.
#[derive(Debug)]
struct Figures {
    lift: f64,
    turn: f64,
    width: f64,
    energy: f64,
    /// Of a strand of each cycle on the mean, from the shortest on.
    lengths: Vec<f64>,
}

fn tight(tubes: &Tubes, start: Shape, length: f64, force: f64) -> Figures {
    let unit = force / length;
    let schedule = Schedule {
        stages: vec![64.0 * unit],
        tolerance: TOLERANCE * unit,
        ..Schedule::fine()
    };
    let (shape, report) =
        tighten(tubes, start, &schedule, &Progress::new()).expect("a sound start");
    assert!(report.converged, "left with {}", report.residual);
    let all = strand_lengths(tubes, &shape);
    let mean = |cycle: &Vec<usize>| {
        cycle.iter().map(|&i| all[i]).sum::<f64>() / cycle.len() as f64 / length
    };
    let mut lengths: Vec<f64> = tubes.cycles().iter().map(mean).collect();
    lengths.sort_by(f64::total_cmp);
    Figures {
        lift: shape.lift / length,
        turn: shape.turn,
        width: silhouette(tubes, &shape).mean / length,
        energy: report.energy / length / force,
        lengths,
    }
}

fn as_told() -> Figures {
    let (tubes, start) = motley();
    tight(&tubes, start, 1.0, 1.0)
}

/// Fails unless `other`, of so many cells, has the figures of the cord as it was told.
fn assert_same(what: &str, other: &Figures, cells: f64, hand: f64) {
    let told = as_told();
    let mut pairs = vec![
        (told.lift * cells, other.lift),
        (told.width, other.width),
        (told.energy * cells, other.energy),
        (told.turn * cells * hand, other.turn),
    ];
    // Strands that run on in one another may be told as several.
    let tellings = other.lengths.len() / told.lengths.len();
    for (known, found) in told.lengths.iter().zip(other.lengths.chunks(tellings)) {
        pairs.extend(found.iter().map(|&found| (known * cells, found)));
    }
    let worst = pairs
        .iter()
        .map(|(a, b)| (b / a - 1.0).abs())
        .fold(0.0, f64::max);
    println!("{what}: figures apart by {worst:.0e}");
    assert!(worst < AGREE, "{what}: {pairs:?}");
}

#[test]
fn a_cord_in_the_mirror_is_the_cord_with_the_other_hand() {
    let (tubes, mut start) = motley();
    start.points.iter_mut().for_each(|p| p[0] = -p[0]);
    start.turn = -start.turn;
    assert_same("mirror", &tight(&tubes, start, 1.0, 1.0), 1.0, -1.0);
}

#[test]
fn a_cord_on_a_turned_and_lifted_disc_is_the_same() {
    let (tubes, mut start) = motley();
    for point in &mut start.points {
        *point = screwed(*point, (3.7, 1.1), 1.0);
    }
    assert_same("turned disc", &tight(&tubes, start, 1.0, 1.0), 1.0, 1.0);
}

#[test]
fn a_cord_whose_strands_are_named_otherwise_is_the_same() {
    let (tubes, start) = motley();
    // Named anew: who was `old[i]` is now `i`.
    let old = [3, 6, 0, 7, 2, 5, 1, 4];
    let mut new = [0; 8];
    for (now, &then) in old.iter().enumerate() {
        new[then] = now;
    }
    let node = |at: usize| old[at / tubes.nodes] * tubes.nodes + at % tubes.nodes;
    let count = start.points.len();
    let renamed = Tubes {
        continues: old.iter().map(|&then| new[tubes.continues[then]]).collect(),
        radius: (0..count).map(|at| tubes.radius[node(at)]).collect(),
        pull: old.iter().map(|&then| tubes.pull[then]).collect(),
        bending: old.iter().map(|&then| tubes.bending[then]).collect(),
        squeeze: old.iter().map(|&then| tubes.squeeze[then]).collect(),
        ..tubes
    };
    let shape = Shape {
        points: (0..count).map(|at| start.points[node(at)]).collect(),
        squeeze: (0..count).map(|at| start.squeeze[node(at)]).collect(),
        ..start
    };
    assert_same("renamed", &tight(&renamed, shape, 1.0, 1.0), 1.0, 1.0);
}

/// Turned upside down about x, so that every strand runs on from where it ended.
#[test]
fn a_cord_read_from_its_other_end_is_the_same() {
    let (tubes, start) = motley();
    let mut before = vec![0; tubes.strands];
    for (strand, &next) in tubes.continues.iter().enumerate() {
        before[next] = strand;
    }
    let node = |at: usize| match (at / tubes.nodes, at % tubes.nodes) {
        (strand, 0) => (tubes.continues[strand] * tubes.nodes, 1.0),
        (strand, within) => (strand * tubes.nodes + tubes.nodes - within, 0.0),
    };
    let upside_down = |at: usize| {
        let (old, level) = node(at);
        let [x, y, z] = screwed(start.points[old], (start.lift, start.turn), level);
        [x, -y, -z]
    };
    let count = start.points.len();
    let reversed = Tubes {
        radius: (0..count).map(|at| tubes.radius[node(at).0]).collect(),
        continues: before,
        ..tubes.clone()
    };
    let shape = Shape {
        points: (0..count).map(upside_down).collect(),
        squeeze: (0..count).map(|at| start.squeeze[node(at).0]).collect(),
        ..start.clone()
    };
    assert_same("reversed", &tight(&reversed, shape, 1.0, 1.0), 1.0, 1.0);
}

#[test]
fn two_cells_as_one_have_the_same_figures() {
    let (tubes, start) = motley();
    let (longer, start) = tubes.repeated(&start, 2);
    assert_same("two cells", &tight(&longer, start, 1.0, 1.0), 2.0, 1.0);
}

#[test]
fn a_cord_in_other_units_is_the_same() {
    let (length, force) = (3.0, 0.2);
    let (mut tubes, mut start) = motley();
    tubes.radius.iter_mut().for_each(|r| *r *= length);
    tubes.pull.iter_mut().for_each(|t| *t *= force);
    tubes.weight *= force;
    let stiffness = force * length * length;
    tubes.bending.iter_mut().for_each(|b| *b *= stiffness);
    for squeeze in &mut tubes.squeeze {
        if let Squeeze::Fibre { stiffness, .. } = squeeze {
            *stiffness *= force;
        }
    }
    start.lift *= length;
    for point in &mut start.points {
        *point = point.map(|x| x * length);
    }
    let other = tight(&tubes, start, length, force);
    assert_same("other units", &other, 1.0, 1.0);
}
