//! Times of what is said of a list of moves while it is typed, and of the search
//! for new ones.

use plaitwright::structure::{Braid, MoveList, shelf};
use plaitwright::topology::{Family, Round, Search, artin, cycles, joints, symmetry, verdict};

use super::clock::{once, print_head, timed, verdict as held};
use super::start::round_spiral;

/// Rules a second on 8 strands, at least.
const GOAL: f64 = 2000.0;

/// Word, rings and verdict of lists from the shelf; then the finder.
pub(super) fn judged() {
    print_head("Braids: word, rings and verdict");
    for (strands, goal) in [(8, 2.0), (16, 20.0), (32, 500.0)] {
        for structure in shelf().iter().filter(|one| one.strands() == strands) {
            let what = format!("{strands} strands, {}", structure.name);
            timed(&what, 10, Some(goal), || judge(&structure.moves));
        }
    }
    let list = round_spiral(8);
    let round = Round::of(&Braid::new(&list).expect("a braid"));
    timed("8 strands, symmetry of the spiral", 10, None, || {
        symmetry(&round)
    });
    timed(
        "8 strands, joints of the spiral with its mirror",
        10,
        None,
        || joints(&round, &round.mirrored()),
    );
    search();
}

fn judge(list: &MoveList) -> (usize, usize, bool) {
    let braid = Braid::new(list).expect("on the shelf");
    let rings = cycles(braid.becomes()).len();
    (artin(&braid).len(), rings, verdict(&braid).locks())
}

/// A whole family judged, and compared with the shelf.
fn search() {
    let family = Family {
        strands: 8,
        fold: 2,
        carries: 2,
    };
    let of_eight = shelf().iter().filter(|one| one.strands() == 8);
    let known: Vec<Round> = of_eight
        .map(|one| Round::of(&Braid::new(&one.moves).expect("on the shelf")))
        .collect();
    let (ms, tried) = once(|| Search::new(family, known).count());
    let rate = tried as f64 / ms * 1e3;
    println!(
        "\n{tried} rules for 8 strands judged and compared with the shelf in {ms:.0} ms: \
         {rate:.0} a second, goal {GOAL}: {}.",
        held(GOAL, rate)
    );
}
