//! Words and paintings on cords that were solved.

use std::sync::{Arc, OnceLock};

use super::*;
use crate::cord::{Progress, Quality, Recipe, Tension, Twist, solve};
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
