//! Cords asked for the other way round, beside the cords they come to.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::collections::BTreeSet;

use plaitwright::cord::{Cord, Progress, Quality, Tension, Twist, solve};
use plaitwright::material::{Colour, Strand, on_shelf};
use plaitwright::plan::wish::{Freedom, How, Makings, Outcome, Question, Wish, ask};
use plaitwright::plan::{Binding, bound_end, glue_gaps};
use plaitwright::quantity::UnitSystem;
use plaitwright::structure::shelf;

const SATIN: &str = "satin cord 2 mm, polyester";
const PEARL: &str = "pearl cotton no. 5";
const LEATHER: &str = "leather lace 1.5 mm, round";

/// A cord with these strands again and again round the disc: fibre, ends, colour.
fn makings(structure: &str, strands: usize, of: &[(&str, u16, u8)]) -> Makings {
    let is_it =
        |it: &&plaitwright::structure::Structure| it.name == structure && it.strands() == strands;
    let list = shelf().iter().find(is_it).unwrap();
    let strand = |k: usize| {
        let (fibre, ends, colour) = of[k % of.len()];
        let mut strand = Strand::single(fibre, Colour([colour; 3]));
        strand.parts[0].ends = ends;
        strand
    };
    let fibres: BTreeSet<&str> = of.iter().map(|it| it.0).collect();
    Makings {
        structure: structure.to_owned(),
        moves: list.moves.clone(),
        strands: (0..strands).map(strand).collect(),
        cores: Vec::new(),
        fibres: fibres
            .into_iter()
            .map(|it| on_shelf(it).unwrap().clone())
            .collect(),
        tension: Tension::Slots(0.6),
        counterweight: 70.0,
        twist: Twist::Free,
    }
}

fn satin() -> Makings {
    makings("Round spiral", 8, &[(SATIN, 1, 0)])
}

fn solved(makings: &Makings) -> Cord {
    let recipe = makings.recipe().unwrap();
    solve(&recipe, None, Quality::Full, &Progress::new()).unwrap()
}

fn asked(makings: &Makings, wish: Wish, free: &[Freedom]) -> Outcome {
    let cord = solved(makings);
    let question = Question {
        now: makings,
        cord: &cord,
        wish,
        free: free.iter().copied().collect(),
        most: 6,
    };
    ask(&question, &Progress::new(), |_| ())
}

fn thick(mm: f64) -> Wish {
    Wish::thickness(mm, 0.05).unwrap()
}

/// Solved from nothing, by itself.
fn anew(makings: &Makings) -> f64 {
    let recipe = makings.recipe().unwrap();
    let cord = solve(&recipe, None, Quality::Fine, &Progress::new()).unwrap();
    cord.figures.thickness_rested.value
}

#[test]
fn a_solved_answer_is_the_cord_it_says_and_meets_the_wish_within_its_spread() {
    let mix = makings("Round spiral", 6, &[(PEARL, 6, 0), (SATIN, 1, 9)]);
    let leather = makings("Round, alternate crossing", 4, &[(LEATHER, 1, 0)]);
    for (cord, mm) in [(satin(), 6.0), (satin(), 9.0), (mix, 5.2), (leather, 5.5)] {
        let outcome = asked(&cord, thick(mm), &Freedom::ALL);
        assert!(outcome.is_done && outcome.hindrance.is_none(), "{mm}");
        let found = outcome.answers.iter().filter(|it| it.how == How::Solved);
        let found: Vec<_> = found.collect();
        assert!(found.len() >= 2, "{mm}: {} solved", found.len());
        for answer in found {
            let (words, measure) = (answer.words(UnitSystem::Millimetres), answer.measure);
            let within = measure.low - 0.05..measure.high + 0.05;
            assert!(within.contains(&mm), "{words}: {measure:?} for {mm}");
            // A mix of few strands may rest in another shape when begun from nothing.
            let own = anew(&answer.makings);
            let told = measure.low..measure.high;
            assert!(told.contains(&own), "{words}: {measure:?}, solved {own}");
        }
    }
}

#[test]
fn asking_for_the_thickness_it_has_gives_the_cord_as_it_is() {
    let cord = satin();
    let now = solved(&cord).figures.thickness_rested.value;
    let outcome = asked(&cord, thick(now + 0.02), &Freedom::ALL);
    let [only] = &outcome.answers[..] else {
        panic!("{} answers", outcome.answers.len());
    };
    assert_eq!(only.words(UnitSystem::Millimetres), "as it is");
    assert_eq!(only.makings, cord);
    assert_eq!(only.threads, outcome.now);
}

/// Alone and with the others, over a handful of cords; which wishes each can meet was
/// tried.
#[test]
fn what_is_left_free_is_changed_and_nothing_else() {
    let thin = makings("Round spiral", 8, &[(PEARL, 3, 0)]);
    let four = makings("Round, alternate crossing", 4, &[(SATIN, 1, 0)]);
    let mut used = BTreeSet::new();
    for (cord, mm, free) in [
        (&thin, 4.6, Freedom::Ends),
        (&satin(), 6.0, Freedom::Size),
        (&satin(), 10.7, Freedom::Strands),
        (&satin(), 9.1, Freedom::Structure),
        (&four, 5.15, Freedom::Counterweight),
    ] {
        let outcome = asked(cord, thick(mm), &[free]);
        assert_eq!(outcome.hindrance, None, "{free:?}");
        let others = outcome.answers.iter().filter(|it| !it.changes.is_empty());
        for answer in others {
            let changed: BTreeSet<Freedom> =
                answer.changes.iter().flat_map(|it| it.freedoms()).collect();
            assert_eq!(changed, [free].into());
            used.extend(changed);
        }
    }
    assert_eq!(used, Freedom::ALL.into());
}

#[test]
fn wishes_that_cannot_be_met_say_so_with_the_nearest() {
    let free = [Freedom::Ends, Freedom::Size, Freedom::Counterweight];
    for (mm, said) in [(0.1, "no cord of 0.10 mm"), (80.0, "no cord of 80.0 mm")] {
        let outcome = asked(&satin(), thick(mm), &free);
        let sentence = outcome.hindrance.unwrap().sentence(UnitSystem::Millimetres);
        let nearest = outcome.answers[0].measure.value;
        let told = format!("the nearest is {nearest:.1} mm");
        assert!(
            sentence.contains(said) && sentence.contains(&told),
            "{sentence}"
        );
    }
    let outcome = asked(&satin(), thick(6.0), &[]);
    let sentence = outcome.hindrance.unwrap().sentence(UnitSystem::Millimetres);
    assert!(sentence.starts_with("nothing is left free"), "{sentence}");
}

#[test]
fn what_is_no_length_is_no_wish() {
    for mm in [0.0, -3.0, f64::NAN, f64::INFINITY] {
        assert_eq!(Wish::thickness(mm, 0.05), None);
    }
    let wish = Wish::cap(0.2, 0.3, Binding::default());
    assert_eq!(wish, None, "no room for a cord beside the glue");
}

#[test]
fn a_bound_end_wished_for_a_cap_leaves_room_for_glue_in_it() {
    let cap = 6.0;
    let free = [Freedom::Size, Freedom::Strands, Freedom::Ends];
    let binding = Binding::default();
    let wish = Wish::cap(cap, 0.3, binding).unwrap();
    let outcome = asked(&satin(), wish, &free);
    assert_eq!(outcome.hindrance, None);
    let best = &outcome.answers[0];
    let gap = cap - bound_end(&best.figures, &binding).value;
    let [least, most] = glue_gaps(0.3);
    let words = best.words(UnitSystem::Millimetres);
    assert!(least <= gap && gap <= most, "{words}: gap {gap}");
}

#[test]
fn a_question_has_the_same_answers_on_one_thread_and_on_three() {
    let told = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads);
        let pool = pool.build().unwrap();
        let free = [Freedom::Size, Freedom::Strands, Freedom::Counterweight];
        let outcome = pool.install(|| asked(&satin(), thick(6.6), &free));
        let answers = outcome.answers.iter();
        let told = answers.map(|it| (it.words(UnitSystem::Millimetres), it.measure));
        told.collect::<Vec<_>>()
    };
    assert_eq!(told(1), told(3));
}

#[test]
fn first_answers_are_told_before_anything_is_solved_and_a_stop_is_heeded() {
    let (makings, cord) = (satin(), solved(&satin()));
    let question = Question {
        now: &makings,
        cord: &cord,
        wish: thick(6.0),
        free: Freedom::ALL.into(),
        most: 6,
    };
    let progress = Progress::new();
    let mut tellings = 0;
    let outcome = ask(&question, &progress, |first| {
        tellings += 1;
        let changed = first.answers.iter().filter(|it| !it.changes.is_empty());
        let hows: BTreeSet<bool> = changed.map(|it| it.how == How::About).collect();
        assert_eq!(hows, [true].into(), "told from the cord that is known");
        assert!(!first.is_done);
        progress.stop();
    });
    assert_eq!(tellings, 1);
    assert!(!outcome.answers.is_empty(), "what was found until then");
}

#[test]
fn a_cord_takes_of_a_fibre_what_its_ends_and_their_take_up_say() {
    let (one, cord) = (satin(), solved(&satin()));
    let mut two = satin();
    for strand in &mut two.strands {
        strand.parts[0].ends = 2;
    }
    let [single] = &one.threads(&cord.figures)[..] else {
        panic!("one fibre in one colour");
    };
    let [double] = &two.threads(&cord.figures)[..] else {
        panic!("one fibre in one colour");
    };
    let all: f64 = cord.figures.take_up.iter().map(|it| it.value).sum();
    assert!((single.used.value - all).abs() < 1e-9, "{single:?}");
    assert!((double.used.value / all - 2.0).abs() < 1e-9, "{double:?}");
}
