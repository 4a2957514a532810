//! Words and paintings on cords that were solved.

use std::sync::{Arc, OnceLock};

use super::*;
use crate::cord::{Progress, Quality, Recipe, Tension, Twist, solve};
use crate::material::colour::Photograph;
use crate::material::{Colour, Strand, on_shelf};
use crate::structure::{Braid, MoveList, shelf};
use crate::surface::Surface;

fn listed(strands: usize, name: &str) -> MoveList {
    let mut all = shelf().iter();
    let found = all.find(|one| one.strands() == strands && one.name == name);
    found.unwrap().moves.clone()
}

fn surface(moves: &MoveList) -> Surface {
    let satin = on_shelf("satin cord 2 mm, polyester").unwrap();
    let strands = vec![Strand::single(&satin.name, Colour::BLACK); moves.start.len()];
    let fibres = [satin.clone()];
    let recipe = Recipe::new(
        moves,
        &strands,
        &fibres,
        Tension::Slots(0.6),
        70.0,
        Twist::Free,
    );
    let cord = solve(&recipe.unwrap(), None, Quality::Fine, &Progress::new()).unwrap();
    Surface::new(&cord.form).unwrap()
}

fn solved_mirror(moves: &MoveList) -> Surface {
    surface(&moves.mirrored())
}

fn group(moves: &MoveList, alike: Alike) -> Group {
    Group::of_braid(&Braid::new(moves).unwrap(), alike).unwrap()
}

/// The round spiral of eight, its surface solved once for all tests.
fn spiral() -> &'static (MoveList, Surface) {
    static SPIRAL: OnceLock<(MoveList, Surface)> = OnceLock::new();
    SPIRAL.get_or_init(|| {
        let moves = listed(8, "Round spiral");
        let surface = surface(&moves);
        (moves, surface)
    })
}

fn looks_of_spiral() -> Vec<Look> {
    let (moves, surface) = spiral();
    let mosaic = Arc::new(Mosaic::of(surface));
    let wanted = Wanted::all(Choice::counts(&[4, 4]));
    let mut looks = Looks::new(group(moves, Alike::UpsideDown), wanted, Some(mosaic), 1);
    while !looks.go_on(1000) {}
    looks.shown()
}

#[test]
fn turning_and_shifting_does_not_change_the_words() {
    for name in ["Round spiral", "Round, straight across"] {
        let moves = listed(8, name);
        let mosaic = Mosaic::of(&surface(&moves));
        let group = group(&moves, Alike::Turned);
        let mut looks = Looks::new(group.clone(), Wanted::all(Choice::counts(&[4, 4])), None, 1);
        while !looks.go_on(1000) {}
        for look in looks.shown() {
            let words = describe(&mosaic, &look.arrangement);
            for alike in group.alike(&look.arrangement) {
                let other = describe(&mosaic, &alike);
                assert_eq!(words.sentence, other.sentence, "{name} {alike}");
            }
        }
    }
}

#[test]
fn the_words_of_the_mirror_image_are_the_same_but_for_the_hand() {
    let (moves, _) = spiral();
    let mirrored = Mosaic::of(&surface(&moves.mirrored()));
    for look in looks_of_spiral() {
        let here = look.words.unwrap();
        let there = describe(&mirrored, &look.arrangement);
        assert_eq!(here.kind, there.kind, "{}", look.arrangement);
        for (a, b) in here.colours.iter().zip(&there.colours) {
            let swapped = a.sentence.replace(", Z", ", ?").replace(", S", ", Z");
            assert_eq!(
                swapped.replace(", ?", ", S"),
                b.sentence,
                "{}",
                look.arrangement
            );
        }
    }
}

#[test]
fn the_spiral_of_eight_shows_what_is_said_of_it() {
    // Worked from the moves by hand and looked at: neighbours of one colour make broad
    // bands, every second pair fine ones, every second strand dashes two stitches long.
    let mosaic = Mosaic::of(&spiral().1);
    let words = |text: [u8; 8]| describe(&mosaic, &Arrangement(text.into()));
    let broad = words([0, 0, 0, 0, 1, 1, 1, 1]);
    assert_eq!(broad.kind, Kind::Spirals);
    assert_eq!(broad.colours[0].sentence, "one spiral, S, of four strands");
    let fine = words([0, 0, 1, 1, 0, 0, 1, 1]);
    assert_eq!(
        fine.colours[1].sentence,
        "two spirals, Z, two strands in each"
    );
    assert_eq!(words([0, 1, 0, 1, 0, 1, 0, 1]).sentence, "blocks");
    assert_eq!(
        words([0, 1, 1, 1, 1, 1, 1, 1]).sentence,
        "flecks on a ground"
    );
    assert_eq!(words([1; 8]).sentence, "plain");
}

#[test]
fn lines_and_rings_are_told_on_the_square_cord() {
    let mosaic = Mosaic::of(&surface(&listed(8, "Square, pairs in turn")));
    let words = |text: [u8; 8]| describe(&mosaic, &Arrangement(text.into()));
    let lines = words([0, 0, 1, 1, 0, 0, 1, 1]);
    assert_eq!(lines.sentence, "four lengthwise lines");
    assert_eq!(words([0, 1, 0, 1, 0, 1, 0, 1]).sentence, "rings");
}

/// Paints every stitch of some millimetres as an arrangement has it.
fn painted(surface: &Surface, arrangement: &Arrangement) -> Painting {
    let mut painting = Painting::open(surface, surface.repeat_mm);
    let [across, up] = painting.size();
    for (x, y) in (0..across)
        .step_by(3)
        .flat_map(|x| (0..up).step_by(3).map(move |y| (x, y)))
    {
        let at = painting.middle(x, y);
        if painting.cell(x, y).is_none()
            && let Some(strand) = surface.strand_at(at[0], at[1])
        {
            painting.paint_stitch(surface, at, Some(arrangement.0[strand]));
        }
    }
    painting
}

fn asked<'a>(painting: &'a Painting, contents: &'a Contents) -> Asked<'a> {
    Asked {
        painting,
        contents,
        now: None,
        few: 3,
    }
}

#[test]
fn what_was_painted_after_an_arrangement_is_found_again() {
    let (moves, surface) = spiral();
    let group = group(moves, Alike::Turned);
    let candidate = Candidate::new("spiral", surface, 8, Hand::Same);
    for colours in [
        [0, 0, 1, 1, 0, 1, 0, 1],
        [0, 0, 0, 0, 1, 1, 1, 1],
        [2, 1, 0, 1, 1, 0, 2, 2],
    ] {
        let arrangement = Arrangement(colours.into());
        let painting = painted(surface, &arrangement);
        for contents in [Contents::Counts(arrangement.counts()), Contents::UpTo(3)] {
            let found = answers(&asked(&painting, &contents), &[(&candidate, &group)]);
            assert_eq!(
                group.least(&found[0].arrangement),
                group.least(&arrangement)
            );
            assert!(found[0].share > 0.97, "{}", found[0].share);
            let (agree, of) = found[0].stitches_that_agree();
            assert_eq!((agree, of), (of, of));
            assert!(found[1].share < found[0].share - 0.05);
            assert_eq!(found[0].why_not_all(&candidate, &[]), None);
        }
    }
}

#[test]
fn a_stitch_that_cannot_change_alone_is_told_with_its_reason() {
    let (moves, surface) = spiral();
    let group = group(moves, Alike::Turned);
    let candidate = Candidate::new("spiral", surface, 8, Hand::Same);
    let arrangement = Arrangement(vec![0, 0, 0, 0, 1, 1, 1, 1]);
    let mut painting = painted(surface, &arrangement);
    let float = surface
        .floats
        .iter()
        .find(|float| float.strand == 2)
        .unwrap();
    painting.paint_stitch(surface, float.middle, Some(1));
    let contents = Contents::UpTo(2);
    let asked = Asked {
        now: Some(&arrangement),
        ..asked(&painting, &contents)
    };
    let found = answers(&asked, &[(&candidate, &group)]);
    let (agree, of) = found[0].stitches_that_agree();
    assert_eq!(agree + 1, of, "one of the two stitches of a strand");
    let names = ["ink".to_owned(), "surf".to_owned()];
    let why = found[0].why_not_all(&candidate, &names).unwrap();
    assert!(
        why.starts_with("Strand C shows twice in a repeat."),
        "{why}"
    );
    assert!(why.contains("C must be"), "{why}");
}

#[test]
fn a_painting_of_the_other_hand_is_found_on_the_mirror_image() {
    let (moves, surface) = spiral();
    let turned = group(moves, Alike::Turned);
    let mirrored = solved_mirror(moves);
    let painting = painted(&mirrored, &Arrangement(vec![0, 0, 1, 1, 0, 0, 1, 1]));
    let same = Candidate::new("spiral", surface, 8, Hand::Same);
    let mirror = Candidate::new("spiral", surface, 8, Hand::Mirrored);
    let contents = Contents::Counts(vec![4, 4]);
    let all = [(&same, &turned), (&mirror, &turned)];
    let found = answers(&asked(&painting, &contents), &all);
    assert_eq!(found[0].candidate, 1);
    assert!(found[0].share > 0.9, "{}", found[0].share);
    let of_same = answers(&asked(&painting, &contents), &all[..1]);
    assert!(of_same[0].share < 0.85, "{}", of_same[0].share);
}

#[test]
fn a_picture_is_matched_by_the_nearest_colours() {
    let (_, surface) = spiral();
    let mut painting = Painting::open(surface, 10.0);
    let (red, blue) = (Colour([200, 30, 30]), Colour([30, 40, 160]));
    // Blue above, red below, in the middle of a wide one that is green and clear at its ends.
    let pixel = |x: usize, y: usize| match (x, y) {
        (0..60, _) => [30, 160, 30, 255],
        (180.., _) => [0, 0, 0, 0],
        (_, 0..30) => [20, 20, 200, 255],
        _ => [230, 60, 40, 255],
    };
    let bytes = (0..60).flat_map(|y| (0..240).flat_map(move |x| pixel(x, y)));
    let photograph = Photograph::new(240, 60, bytes.collect()).unwrap();
    painting.lay_photograph(&photograph, Crop::default(), &[red, blue]);
    let [_, up] = painting.size();
    assert_eq!(painting.cell(0, up - 1), Some(1));
    assert_eq!(painting.cell(50, 0), Some(0));
    let before = painting.clone();
    painting.lay_photograph(&photograph, Crop::default(), &[]);
    assert_eq!(painting, before);
    let at_its_end = Crop {
        middle: [1.0, 0.0],
        zoom: 3.0,
    };
    painting.lay_photograph(&photograph, at_its_end, &[red, blue]);
    assert_eq!(painting.painted(), 0, "what is clear stays open");
}

#[test]
fn nothing_painted_has_no_answer() {
    let (moves, surface) = spiral();
    let candidate = Candidate::new("spiral", surface, 8, Hand::Same);
    let painting = Painting::open(surface, 10.0);
    let contents = Contents::UpTo(2);
    let group = group(moves, Alike::Turned);
    assert!(answers(&asked(&painting, &contents), &[(&candidate, &group)]).is_empty());
}

#[test]
fn wishes_are_the_patterns_they_are_called() {
    let (_, surface) = spiral();
    let laid = |wish: Wish| {
        let mut painting = Painting::open(surface, surface.repeat_mm);
        painting.wish(surface, wish, 2, &[0, 1]);
        painting
    };
    let at = |painting: &Painting, round: f64, up: f64| {
        let turn = surface.repeat_turn - surface.repeat_turn.round();
        painting.at([round + turn * up, up * surface.repeat_mm])
    };
    let rings = laid(Wish::Rings);
    let lines = laid(Wish::Lines);
    for k in 0..40 {
        let off = 0.011 + f64::from(k) / 41.0;
        assert_eq!(at(&rings, off, 0.1), Some(0), "the first of four rings");
        assert_eq!(at(&rings, off, 0.4), Some(1), "the second");
        assert_eq!(at(&lines, 0.1, off), Some(0), "the first of four lines");
        assert_eq!(at(&lines, 0.35, off), Some(1), "the second");
    }
    let [z, s] = [Wish::SpiralsZ, Wish::SpiralsS].map(laid);
    let steep = (2.0 * surface.repeat_mm / surface.girth_mm)
        .round()
        .max(1.0)
        / 2.0;
    for k in 0..40 {
        let up = f64::from(k) / 41.0;
        assert_eq!(
            at(&z, 0.125 + steep * up, up),
            Some(0),
            "to the right and up"
        );
        assert_eq!(
            at(&s, 0.125 - steep * up, up),
            Some(0),
            "to the left and up"
        );
    }
    let halves = laid(Wish::Blocks)
        .cells()
        .iter()
        .filter(|it| **it == Some(0))
        .count();
    assert!((halves as f64 / rings.cells().len() as f64 - 0.5).abs() < 0.05);
    assert_eq!(rings.counts(8, 2), [4, 4]);
    assert_eq!(rings.counts(7, 3).iter().sum::<usize>(), 7);
    assert_eq!(rings.counts(7, 3)[2], 0, "not painted with");
    let mut none = laid(Wish::Lines);
    none.wish(surface, Wish::Rings, 2, &[]);
    assert_eq!(none.painted(), 0, "no colours paint nothing");
    assert_eq!(none.counts(8, 2), [0, 0]);
}
