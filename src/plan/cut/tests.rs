//! What is cut, beside lengths worked by hand and beside draws by lot.

use proptest::prelude::*;

use super::*;
use crate::plan::trial::{Trial, satin};
use crate::plan::{Table, plan};

/// Eight strands of 2 mm satin cord of tex 2271 with a take-up of 1.6: 450 mm of cord
/// take 450 × 1.6 + 160 mm a strand; worked by hand from tex and length.
#[test]
fn a_necklace_of_eight_satin_cords_takes_88_centimetres_a_strand() {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.workshop.cutting.start = 40.0;
    trial.workshop.cutting.hand = 45.0;
    trial.workshop.table = Table::Disc { radius: 75.0 };
    trial.length(450.0);
    trial.exactly();
    trial.workshop.cutting.sure = 0.5;
    let list = plan(&trial.job()).cut;
    let [cut] = list.cuts.as_slice() else {
        panic!("one kind of strand: {:?}", list.cuts);
    };
    assert_eq!((cut.count, cut.length), (8, 880.0));
    assert!((list.metres - 7.04).abs() < 1e-9);
    let grams = list.metres * 2271.0 / 1000.0;
    assert!((grams - 16.0).abs() < 0.02, "{grams}");
    let cord = f64::from(cut.count) * cut.braided * 2271.0 * 1e-6;
    assert!((cord - 13.08).abs() < 0.01, "{cord}");
    assert_eq!(cut.rule_of_thumb, 1350.0);
    assert!((list.saved - 8.0 * 0.47).abs() < 1e-9);
    assert_eq!(list.rule_short_by, None);
}

/// 20 cm and 90 cm of the same cord: 48 and 160 cm; and the everyday rule is short
/// for a very short piece.
#[test]
fn the_everyday_rule_wastes_on_long_cords_and_is_short_for_short_ones() {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.exactly();
    trial.workshop.cutting.sure = 0.5;
    for (length, cut) in [(200.0, 480.0), (900.0, 1600.0)] {
        trial.length(length);
        assert_eq!(plan(&trial.job()).cut.cuts[0].length, cut);
    }
    trial.length(80.0);
    let list = plan(&trial.job()).cut;
    let by = list.rule_short_by.unwrap();
    assert!((by - (80.0 * 1.6 + 160.0 - 240.0)).abs() < 1e-9, "{by}");
    assert!(list.saved < 0.0);
}

#[test]
fn thick_and_thin_strands_and_cores_get_lengths_of_their_own() {
    let mut trial = Trial::of(vec![satin(); 4], 1.5);
    trial.cores = vec![satin()];
    trial.figures.take_up[1] = Estimate::exact(1.9);
    let list = plan(&trial.job()).cut;
    let told: Vec<_> = list.cuts.iter().map(|cut| cut.strands.clone()).collect();
    assert_eq!(
        told,
        [
            vec![vec![1]],
            vec![vec![0], vec![2], vec![3]],
            vec![vec![4]]
        ]
    );
    let core = &list.cuts[2];
    assert!(core.is_core(4) && core.length < list.cuts[1].length);
    assert_eq!(core.braided, list.on_disc.value);
}

#[test]
fn the_start_is_added_once_to_a_single_strand_and_not_at_all_to_a_folded_one() {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.exactly();
    trial.workshop.cutting.sure = 0.5;
    trial.length(200.0);
    let single = plan(&trial.job()).cut;
    trial.piece.folded = true;
    let folded = plan(&trial.job()).cut;
    assert_eq!((single.cuts[0].count, single.cuts[0].length), (8, 480.0));
    assert_eq!((folded.cuts[0].count, folded.cuts[0].length), (4, 880.0));
    assert!(folded.cuts[0].is_folded() && folded.notes.is_empty());
}

#[test]
fn a_strand_without_a_neighbour_of_its_kind_stays_single() {
    let mut trial = Trial::of(vec![satin(); 7], 1.6);
    trial.strands[2].parts[0].colour = crate::material::Colour::BLACK;
    trial.piece.folded = true;
    let list = plan(&trial.job()).cut;
    let mut groups: Vec<_> = list
        .cuts
        .iter()
        .flat_map(|cut| cut.strands.clone())
        .collect();
    groups.sort();
    assert_eq!(groups, [vec![0, 1], vec![2], vec![3, 4], vec![5, 6]]);
    assert_eq!(list.notes.len(), 1, "{:?}", list.notes);
    trial.piece.ends[0] = End::Tassel { length: 60.0 };
    let list = plan(&trial.job()).cut;
    assert!(list.cuts.iter().all(|cut| !cut.is_folded()));
    assert!(list.notes[0].contains("tassel"), "{:?}", list.notes);
}

#[test]
fn ends_held_together_and_cords_and_sizes_are_all_counted() {
    let mut trial = Trial::of(vec![satin(); 4], 1.6);
    for strand in &mut trial.strands {
        strand.parts[0].ends = 3;
    }
    trial.piece.cords = 2;
    trial.size("long", 50.0);
    let list = plan(&trial.job()).cut;
    let counts: Vec<_> = list.cuts.iter().map(|cut| (cut.run, cut.count)).collect();
    assert_eq!(counts, [(0, 24), (1, 12)]);
    assert!(list.cuts[1].length > list.cuts[0].length);
    assert_eq!(list.cuts[0].count_of(0), 24);
}

#[test]
fn a_tassel_at_the_end_uses_what_is_left_over() {
    let mut trial = Trial::of(vec![satin(); 4], 1.6);
    let plain = plan(&trial.job()).cut.cuts[0].clone();
    trial.piece.ends[1] = End::Tassel { length: 100.0 };
    let short = plan(&trial.job()).cut.cuts[0].clone();
    assert!((short.left_over - (plain.left_over - 100.0)).abs() < 1e-9);
    trial.piece.ends[1] = End::Tassel { length: 200.0 };
    let long = plan(&trial.job()).cut.cuts[0].clone();
    assert_eq!(long.left_over, 0.0);
    assert!(long.chain.links.iter().any(|link| link.name == "tassel"));
}

/// The sum by which strands are reckoned in every frame beside the propagation of the
/// guide, which looks at every pair of inputs.
#[test]
fn the_quick_sum_of_a_strand_is_that_of_the_propagation() {
    let about = |value: f64, off: f64| Estimate {
        value,
        low: value - off,
        high: value + off,
    };
    let inputs = [
        about(450.0, 9.0),
        about(1.6, 0.15),
        by_hand(40.0),
        by_hand(45.0),
    ];
    let links = [
        product(inputs[0], inputs[1]),
        inputs[2],
        Estimate::exact(75.0),
        inputs[3],
    ];
    let link = |adds: Estimate| Link {
        name: String::new(),
        adds,
        reason: String::new(),
    };
    let quick = chained(links.map(link).into()).total;
    let whole = propagated(&inputs, |x| x[0] * x[1] + x[2] + 75.0 + x[3]);
    for (a, b) in [
        (quick.value, whole.value),
        (quick.low, whole.low),
        (quick.high, whole.high),
    ] {
        assert!((a - b).abs() < 0.05, "{quick:?} {whole:?}");
    }
}

/// Draws from the stated spread, half a normal one to each side, of every input.
#[test]
fn a_strand_cut_to_be_sure_in_39_of_40_draws_is_long_enough_in_as_many() {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.figures.take_up = vec![
        Estimate {
            value: 1.6,
            low: 1.52,
            high: 1.72
        };
        8
    ];
    trial.workshop.cutting.mark = 1e-6;
    let plan = plan(&trial.job());
    let (cut, cutting) = (&plan.cut.cuts[0], &trial.workshop.cutting);
    let mut random = fastrand::Rng::with_seed(7);
    let mut drawn = |estimate: Estimate| {
        let turn = std::f64::consts::TAU * random.f64();
        let normal = (-2.0 * random.f64().max(1e-300).ln()).sqrt() * turn.cos() / 1.959_964;
        let side = if normal < 0.0 {
            estimate.value - estimate.low
        } else {
            estimate.high - estimate.value
        };
        estimate.value + normal * side
    };
    let draws = 200_000;
    let enough = (0..draws).filter(|_| {
        let needed = drawn(plan.cut.runs[0].rested) * drawn(trial.figures.take_up[0])
            + drawn(by_hand(cutting.start))
            + 75.0
            + drawn(by_hand(cutting.hand));
        needed <= cut.length
    });
    let share = enough.count() as f64 / f64::from(draws);
    assert!((share - 0.975).abs() < 0.01, "{share}");
}

fn any_trial() -> impl Strategy<Value = Trial> {
    let takes = prop::collection::vec((1.0..2.5, 0.0..0.3, 0_u8..3), 3..17);
    (takes, 50.0..2000.0, any::<bool>(), 0.5..0.999, 1.0..30.0).prop_map(
        |(takes, length, folded, sure, mark)| {
            let mut trial = Trial::of(vec![satin(); takes.len()], 1.0);
            for (at, (value, off, colour)) in takes.into_iter().enumerate() {
                trial.figures.take_up[at] = Estimate {
                    value,
                    low: value - off,
                    high: value + off,
                };
                trial.strands[at].parts[0].colour = crate::material::Colour([colour; 3]);
            }
            trial.length(length);
            trial.piece.folded = folded;
            trial.workshop.cutting.sure = sure;
            trial.workshop.cutting.mark = mark;
            trial
        },
    )
}

/// A workshop measured in sixteenths of an inch, typed and read again, cuts the same.
#[test]
fn lengths_written_in_inches_and_read_again_cut_the_same() {
    use crate::quantity::{Length, UnitSystem};
    let again = |mm: f64| {
        let written = Length::from_mm(mm).written(UnitSystem::Inches);
        Length::read(&written, UnitSystem::Millimetres)
            .unwrap()
            .mm()
    };
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.length(450.0);
    let inches = |inches: f64| Length::from_inches(inches).mm();
    let cutting = &mut trial.workshop.cutting;
    (cutting.start, cutting.hand, cutting.mark) = (inches(1.5), inches(1.8125), inches(0.25));
    let before = plan(&trial.job());
    let cutting = &mut trial.workshop.cutting;
    for length in [&mut cutting.start, &mut cutting.hand, &mut cutting.mark] {
        *length = again(*length);
    }
    assert_eq!(plan(&trial.job()).cut, before.cut);
    let marks = before.cut.cuts[0].length / 6.35;
    assert!((marks - marks.round()).abs() < 1e-9, "{marks}");
}

/// What is cut for each strand, mm.
fn by_strand(list: &CutList) -> Vec<f64> {
    let all = list.cuts.iter().flat_map(|cut| {
        cut.strands
            .iter()
            .flatten()
            .map(|&strand| (strand, cut.strand_length()))
    });
    let mut lengths: Vec<(usize, f64)> = all.collect();
    lengths.sort_by_key(|(strand, _)| *strand);
    lengths.into_iter().map(|(_, length)| length).collect()
}

proptest! {
    #[test]
    fn every_strand_is_cut_exactly_once_and_pairs_are_neighbours(trial in any_trial()) {
        let job = trial.job();
        let list = plan(&job).cut;
        let mut strands: Vec<usize> = list.cuts.iter().flat_map(|cut| cut.strands.concat()).collect();
        strands.sort_unstable();
        prop_assert_eq!(strands, (0..job.strands.len()).collect::<Vec<_>>());
        for cut in &list.cuts {
            let lengths = u32::try_from(cut.strands.len()).unwrap();
            prop_assert_eq!(cut.count, lengths);
            for pair in cut.strands.iter().filter(|group| group.len() == 2) {
                let n = job.strands.len();
                prop_assert!((pair[0] + 1) % n == pair[1], "{:?}", pair);
                prop_assert_eq!(&job.strands[pair[0]], &job.strands[pair[1]]);
            }
        }
    }

    #[test]
    fn a_length_is_whole_marks_and_holds_what_is_needed(trial in any_trial()) {
        let list = plan(&trial.job()).cut;
        for cut in &list.cuts {
            let mark = trial.workshop.cutting.mark;
            let marks = cut.length / mark;
            prop_assert!((marks - marks.round()).abs() < 1e-6);
            let needed = cut.chain.total.value + cut.reserve;
            prop_assert!(cut.strand_length() >= needed - 1e-6);
            prop_assert!(cut.strand_length() < needed + mark);
            let links: f64 = cut.chain.links.iter().map(|link| link.adds.value).sum();
            prop_assert!((links - cut.chain.total.value).abs() < 1e-9);
        }
    }

    #[test]
    fn more_length_never_needs_less_strand(trial in any_trial(), more in 0.0..500.0) {
        let mut longer = trial.clone();
        longer.longer(more);
        let (short, long) = (plan(&trial.job()).cut, plan(&longer.job()).cut);
        for (short, long) in by_strand(&short).into_iter().zip(by_strand(&long)) {
            prop_assert!(long >= short - 1e-9, "{} {}", short, long);
        }
    }

    #[test]
    fn surer_is_never_shorter(trial in any_trial(), more in 0.0..1.0) {
        let mut surer = trial.clone();
        let sure = trial.workshop.cutting.sure;
        surer.workshop.cutting.sure = sure + more * (0.999 - sure);
        let (short, long) = (plan(&trial.job()).cut, plan(&surer.job()).cut);
        for (short, long) in by_strand(&short).into_iter().zip(by_strand(&long)) {
            prop_assert!(long >= short - 1e-9, "{} {}", short, long);
        }
    }
}
