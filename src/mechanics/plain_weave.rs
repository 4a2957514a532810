//! A cell of plain weave for tests: two strands up, two across, each over one and
//! under one.

use std::f64::consts::PI;

use super::limp::limp;
use super::{Ends, Hold, Shape, Tubes};

/// `over`: how far strands leave the plane. Periods up and across.
pub(super) fn plain_weave(nodes: usize, periods: [f64; 2], over: f64) -> (Tubes, Shape) {
    let ends = Ends::Lattice {
        upright: 2,
        lift: Hold::Free,
        across: Hold::Free,
    };
    let [up, across] = periods;
    let place = |node: usize| {
        let (strand, along) = (node / nodes, (node % nodes) as f64 / nodes as f64);
        let side = (strand % 2) as f64 / 2.0;
        let out = over * (2.0 * PI * (along + side)).cos();
        match strand {
            0 | 1 => [out, side * across, along * up],
            _ => [-out, along * across, side * up],
        }
    };
    let shape = Shape {
        points: (0..4 * nodes).map(place).collect(),
        lift: up,
        turn: across,
        squeeze: vec![0.0; 4 * nodes],
        axes: Vec::new(),
    };
    (limp(4, nodes, ends), shape)
}

#[cfg(test)]
mod tests {
    use super::super::energy::Energy;
    use super::super::layout::{ACROSS, LIFT};
    use super::super::minimise::Landscape;
    use super::super::passage::free_share;
    use super::super::{Progress, Schedule, linking, strand_lengths, tighten};
    use super::*;

    /// Bent, weighted, with two radii; pressed out of order, and looked at.
    fn pressed(tubes: &Tubes, shape: &Shape) -> (Vec<f64>, Vec<f64>) {
        let mut energy = Energy::new(tubes);
        let mut at = energy.unknowns(shape);
        for (place, x) in at.iter_mut().enumerate() {
            *x += 0.06 * ((place * 7919 % 100) as f64 / 100.0 - 0.5);
        }
        energy.stiffen(&at, 8.0);
        let mut slope = vec![0.0; at.len()];
        energy.height(&at, &mut slope);
        assert!(energy.least_gap() < 0.9, "nothing presses hard");
        (at, slope)
    }

    fn motley() -> (Tubes, Shape) {
        let (tubes, shape) = plain_weave(9, [2.3, 1.9], 0.35);
        let radius = (0..36).map(|node| if node % 5 == 0 { 0.7 } else { 0.45 });
        let tubes = Tubes {
            radius: radius.collect(),
            bending: vec![0.2; 4],
            weight: 0.6,
            ..tubes
        };
        (tubes, shape)
    }

    #[test]
    fn the_slope_of_a_weave_is_the_difference_of_heights() {
        let (tubes, shape) = motley();
        let (at, slope) = pressed(&tubes, &shape);
        let mut energy = Energy::new(&tubes);
        energy.stiffen(&at, 8.0);
        for place in 0..energy.layout.place(ACROSS) + 1 {
            let mut height = |by: f64| {
                let mut there = at.clone();
                there[place] += by;
                energy.height(&there, &mut vec![0.0; at.len()])
            };
            let difference = (height(1e-6) - height(-1e-6)) / 2e-6;
            let error = (difference - slope[place]).abs();
            assert!(error < 1e-5, "{place}: {} for {difference}", slope[place]);
        }
        assert!(slope[energy.layout.place(LIFT)] != 0.0);
    }

    /// Against a look at every cell round about, each pair from one side.
    #[test]
    fn every_near_pair_of_a_weave_is_listed_once() {
        let (tubes, shape) = motley();
        let mut energy = Energy::new(&tubes);
        let at = energy.unknowns(&shape);
        energy.stiffen(&at, 8.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        let own = |node: usize| energy.images.points[node];
        let listed: usize = (0..36).map(|node| energy.pairs.of(node).len()).sum();
        let mut expected = 0;
        for (node, other) in (0..36).flat_map(|a| (0..36).map(move |b| (a, b))) {
            for (up, across) in (-6..=6).flat_map(|a| (-6..=6).map(move |b| (a, b))) {
                let (p, q) = (own(node), own(other));
                let way = [
                    q[0] - p[0],
                    q[1] - p[1] + f64::from(across) * shape.turn,
                    q[2] - p[2] + f64::from(up) * shape.lift,
                ];
                let along = if node < 18 {
                    (up, across)
                } else {
                    (across, up)
                };
                let strand = (node / 9 == other / 9).then_some(along);
                let arc = match strand {
                    Some((along, 0)) => (9 * along + other as i32 - node as i32).abs(),
                    _ => i32::MAX,
                };
                let spacing = energy.spacing_at(node);
                let near = way.iter().map(|x| x * x).sum::<f64>().sqrt()
                    < p[3] + q[3] + energy.pairs.slack() + 0.3;
                let is_own = f64::from(arc) * spacing < 1.6 * (p[3] + q[3]);
                expected += usize::from(near && !is_own);
            }
        }
        assert!(listed > 500, "{listed}");
        assert_eq!(2 * listed, expected);
    }

    /// A step that would draw both periods to nothing, or lift every second strand across
    /// through the upright ones, is cut short.
    #[test]
    fn a_step_through_other_strands_of_a_weave_is_cut_short() {
        let (tubes, shape) = plain_weave(12, [4.0, 4.0], 0.5);
        let mut energy = Energy::new(&tubes);
        let at = energy.unknowns(&shape);
        energy.stiffen(&at, 8.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        let mut step = vec![0.0; at.len()];
        step[energy.layout.place(ACROSS)] = 4.0;
        let narrower = free_share(&energy, &step);
        assert!(narrower < 0.07, "{narrower}");
        let mut step = vec![0.0; at.len()];
        step[3 * 24..3 * 36]
            .iter_mut()
            .step_by(3)
            .for_each(|x| *x = 20.0);
        let through = free_share(&energy, &step);
        assert!(through < 0.05, "{through}");
    }

    #[test]
    fn an_open_weave_draws_together_and_keeps_its_crossings() {
        let (tubes, start) = plain_weave(16, [6.0, 6.0], 0.6);
        let before = linking(&tubes, &start);
        let schedule = Schedule::fine();
        let (shape, report) = tighten(&tubes, start, &schedule, &Progress::new()).unwrap();
        assert!(report.converged, "{report:?}");
        assert_eq!(linking(&tubes, &shape), before);
        let length: f64 = strand_lengths(&tubes, &shape).iter().sum();
        assert!((length - report.energy).abs() < 0.05 * length);
        assert!(shape.lift < 4.0 && shape.turn < 4.0, "{shape:?}");
    }
}
