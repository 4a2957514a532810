//! Times of the engine alone: hard strands, no craft above it.

use std::thread;
use std::time::Duration;

use plaitwright::mechanics::{Progress, Schedule, TightenError, sensitivities, tighten};

use super::clock::{Times, once, print_head, print_row, timed, verdict};
use super::tubes::{Cell, mixed, symmetric, thicker, tight};

/// Cold and warm solves with their goals.
pub(super) fn solves() {
    print_head("Engine: hard strands, half their pull as weight");
    for (strands, nodes, runs, goal) in [
        (8, 56, 40, Some(5.0)),
        (8, 128, 20, None),
        (16, 128, 20, Some(12.0)),
        (32, 256, 15, Some(35.0)),
        (32, 448, 10, None),
    ] {
        let cell = symmetric(strands, nodes);
        let what = format!("{strands} strands, symmetric cell, {nodes} nodes, cold");
        timed(&what, runs, goal, || tight(&cell, &Schedule::fine()));
    }
    let cell = symmetric(8, 56);
    let what = "8 strands, 56 nodes, cold, on to the hard limit";
    timed(what, 15, Some(10.0), || tight(&cell, &Schedule::hard()));
    warm_steps(cell);
    for (strands, nodes, runs, cold, warm) in
        [(16, 256, 10, 100.0, 15.0), (32, 768, 3, 600.0, 120.0)]
    {
        mixed_solves(strands, nodes, runs, [cold, warm]);
    }
}

fn warm_steps(loose: Cell) {
    let shape = tight(&loose, &Schedule::fine());
    let rested = (loose.0, shape);
    let thick = thicker(&rested, 1.1);
    let what = "8 strands, 56 nodes, warm, a tenth thicker";
    timed(what, 40, Some(2.0), || tight(&thick, &Schedule::warm()));
    let mut heavy = rested;
    heavy.0.weight *= 1.1;
    let what = "8 strands, 56 nodes, warm, a tenth more weight";
    timed(what, 40, Some(2.0), || tight(&heavy, &Schedule::warm()));
}

fn mixed_solves(strands: usize, nodes: usize, runs: usize, goals: [f64; 2]) {
    let what = format!("{strands} strands of two makes, whole round, {nodes} nodes");
    let mut cord = None;
    let cold = Times::of(runs, || cord = Some(mixed(strands, nodes)));
    print_row(&format!("{what}, cold"), &cold, Some(goals[0]));
    let cord = cord.expect("it was just made");
    let near = Schedule {
        tolerance: 1e-2,
        ..Schedule::warm()
    };
    let thick = thicker(&cord, 1.05);
    let step = format!("{what}, warm, one make a twentieth thicker");
    timed(&step, runs, Some(goals[1]), || tight(&thick, &near));
    let mut heavy = cord;
    heavy.0.weight *= 1.1;
    let step = format!("{what}, warm, a tenth more weight");
    timed(&step, runs, Some(goals[1]), || tight(&heavy, &near));
}

/// What small changes of every quantity do, from the shape at rest.
pub(super) fn sensitivity() {
    println!("\n### Engine: sensitivities, as a share of a cold solve\n");
    println!("| what | cold ms | sensitivities ms | share | goal | |");
    println!("|---|---:|---:|---:|---:|---|");
    for (strands, nodes) in [(8, 56), (16, 128), (32, 256)] {
        let cell = symmetric(strands, nodes);
        let cold = Times::of(10, || tight(&cell, &Schedule::fine())).least();
        let shape = tight(&cell, &Schedule::fine());
        let answer = || sensitivities(&cell.0, &shape, 64.0);
        if answer().is_none() {
            println!("| {strands} strands, {nodes} nodes | {cold:.2} | no lowest point | | | |");
            continue;
        }
        let least = Times::of(10, answer).least();
        let share = 100.0 * least / cold;
        let within = verdict(share, 20.0);
        println!(
            "| {strands} strands, {nodes} nodes | {cold:.2} | {least:.2} | {share:.0} % | 20 % | {within} |"
        );
    }
}

/// The same cord with ever more of its cells as one: the answer stays, only
/// the number of nodes grows.
pub(super) fn growth() {
    println!(
        "\n### Engine: time for each node of the spiral of eight, more and more cells as one\n"
    );
    println!("| nodes | looks | solve ms | solve µs a node | look µs a node | |");
    println!("|---:|---:|---:|---:|---:|---|");
    let (tubes, start) = symmetric(8, 56);
    let mut first = 0.0;
    for cells in [1, 2, 4, 9, 18, 36] {
        let (tubes, start) = tubes.repeated(&start, cells);
        let nodes = start.points.len();
        let solve = || tighten(&tubes, start.clone(), &Schedule::fine(), &Progress::new());
        let looks = solve().expect("a sound start").1.evaluations;
        let least = Times::of(12 / cells + 3, solve).least();
        let each = least * 1e3 / nodes as f64;
        if cells == 1 {
            first = each;
        }
        let look = each / looks as f64;
        let share = each / first;
        let within = verdict(share, 2.0);
        println!(
            "| {nodes} | {looks} | {least:.1} | {each:.1} | {look:.3} | {share:.2} times the first: {within} |"
        );
    }
}

/// How long a solve of two thousand nodes goes on after it was stopped.
pub(super) fn stopping() {
    print_head("Engine: stopping a solve of 2,016 nodes in another thread");
    let (tubes, start) = symmetric(8, 56);
    let (tubes, start) = tubes.repeated(&start, 36);
    let mut waits = Vec::new();
    for after in [1, 5, 10, 20, 40, 60, 80] {
        let progress = Progress::new();
        thread::scope(|scope| {
            let solve = scope.spawn(|| {
                let end = tighten(&tubes, start.clone(), &Schedule::fine(), &progress);
                assert_eq!(end.err(), Some(TightenError::Stopped), "ended by itself");
            });
            thread::sleep(Duration::from_millis(after));
            let (wait, ()) = once(|| {
                progress.stop();
                solve.join().expect("the solve was stopped");
            });
            waits.push(wait);
        });
    }
    let longest = waits.iter().copied().fold(0.0, f64::max);
    waits.sort_by(f64::total_cmp);
    println!(
        "| longest {longest:.2} ms | {:.2} | {:.2} | 20 | {} |",
        waits[0],
        waits[waits.len() / 2],
        verdict(longest, 20.0)
    );
}
