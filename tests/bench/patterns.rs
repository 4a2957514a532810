//! Times of looks and of painting.

use std::sync::Arc;

use plaitwright::pattern::{
    Alike, Arrangement, Asked, Candidate, Choice, Contents, Group, Hand, Looks, Mosaic, Painting,
    Wanted, Wish, answers,
};
use plaitwright::structure::{Braid, shelf};
use plaitwright::surface::Surface;

use super::clock::{print_head, timed};
use super::cords::fine;

/// The arrangement nearest to rings in two colours, and all looks of half and half, on round
/// spirals of satin cord.
pub(super) fn patterns() {
    print_head("Looks and painting: round spirals");
    for (strands, goal) in [(8, None), (16, Some(50.0)), (32, None)] {
        let is_it = |one: &&plaitwright::structure::Structure| {
            one.name == "Round spiral" && one.strands() == strands
        };
        let braid = shelf().iter().find(is_it).map(|it| Braid::new(&it.moves));
        let group = braid
            .and_then(Result::ok)
            .map(|it| Group::of_braid(&it, Alike::Turned));
        let (Some(Ok(group)), (cord, ..)) = (group, fine(strands, "satin cord 2 mm, polyester"))
        else {
            continue;
        };
        let Some(surface) = Surface::new(&cord.form) else {
            continue;
        };
        painted(strands, goal, &surface, &group);
        looks(strands, &surface, &group);
    }
}

fn painted(strands: usize, goal: Option<f64>, surface: &Surface, group: &Group) {
    let mut painting = Painting::open(surface, surface.girth_mm);
    painting.wish(surface, Wish::Rings, 2, &[0, 1]);
    let now = Arrangement((0..strands).map(|strand| (strand % 2) as u8).collect());
    let contents = Contents::Counts(vec![strands / 2; 2]);
    let asked = Asked {
        painting: &painting,
        contents: &contents,
        now: Some(&now),
        few: 3,
    };
    let hands = [Hand::Same, Hand::Mirrored];
    let both = hands.map(|hand| Candidate::new("spiral", surface, strands, hand));
    let pairs = [(&both[0], group), (&both[1], group)];
    let what = format!("{strands} strands, rings painted all over, both hands");
    timed(&what, 5, goal, || answers(&asked, &pairs));
}

fn looks(strands: usize, surface: &Surface, group: &Group) {
    let mosaic = Arc::new(Mosaic::of(surface));
    let what = format!("{strands} strands, looks of half and half, with their words");
    timed(&what, 3, None, || {
        let choice = Choice::counts(&[strands / 2; 2]);
        let mosaic = Some(Arc::clone(&mosaic));
        let mut looks = Looks::new(group.clone(), Wanted::all(choice), mosaic, 1);
        while !looks.go_on(1_000) {}
        looks.shown().len()
    });
}
