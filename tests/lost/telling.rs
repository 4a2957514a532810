//! What somebody tells of the disc.

use fastrand::Rng;
use plaitwright::bench::{Seen, Spot as What};

use super::disc::{Disc, HAND, Spot, place};

/// Which strands look the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Looks {
    One,
    /// Two, alternating by pairs of neighbours.
    TwoPairs,
    /// Two, half the rim each.
    TwoHalves,
    TwoRandom,
    Three,
    AllDifferent,
}

impl Looks {
    pub(crate) const ALL: [Self; 6] = [
        Self::One,
        Self::TwoPairs,
        Self::TwoHalves,
        Self::TwoRandom,
        Self::Three,
        Self::AllDifferent,
    ];

    /// Different looks, in words.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::One => "1",
            Self::TwoPairs | Self::TwoHalves | Self::TwoRandom => "2",
            Self::Three => "3",
            Self::AllDifferent => "all different",
        }
    }

    /// The look of each strand of the start, in the order of the start.
    pub(crate) fn of(self, strands: usize, rng: &mut Rng) -> Vec<usize> {
        let by_chance = |looks: usize, rng: &mut Rng| {
            let mut drawn: Vec<usize> = (0..strands).map(|strand| strand % looks).collect();
            for strand in looks..strands {
                drawn[strand] = rng.usize(..looks);
            }
            rng.shuffle(&mut drawn);
            drawn
        };
        match self {
            Self::One => vec![0; strands],
            Self::TwoPairs => (0..strands).map(|strand| strand / 2 % 2).collect(),
            Self::TwoHalves => (0..strands)
                .map(|s| usize::from(2 * s >= strands))
                .collect(),
            Self::TwoRandom => by_chance(2, rng),
            Self::Three => by_chance(3, rng),
            Self::AllDifferent => (0..strands).collect(),
        }
    }
}

/// How much somebody tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Told {
    /// Every slot, with what lies in it.
    Everything,
    /// Which slots are taken, and no looks.
    Taken,
    /// Seven slots of ten, chosen by chance.
    Partly,
    /// Every slot, but one strand is told one slot beside its own.
    Misread,
}

impl Told {
    pub(crate) const ALL: [Self; 4] = [Self::Everything, Self::Taken, Self::Partly, Self::Misread];

    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Everything => "all slots and looks",
            Self::Taken => "taken slots, no looks",
            Self::Partly => "7 slots of 10, looks",
            Self::Misread => "all, one slot misread by 1",
        }
    }
}

/// What is told of a disc; the same `by_chance` leaves out the same slots.
pub(crate) fn tell(
    disc: &Disc,
    looks: &[usize],
    told: Told,
    half_slots: bool,
    by_chance: u64,
) -> Seen {
    let mut rng = Rng::with_seed(by_chance);
    let mut seen = Seen::default();
    for spot in std::iter::once(HAND).chain(disc.rim()) {
        let is_named = told != Told::Partly || rng.u32(..10) < 7;
        let is_looked_at = spot % 2 == 0 && spot != HAND || half_slots || !disc.is_free(spot);
        if is_named && is_looked_at {
            let what = disc.strand(spot).map_or(What::Empty, |strand| match told {
                Told::Taken => What::Strand,
                _ => What::Look(looks[strand]),
            });
            seen.spots.insert(place(spot), what);
        }
    }
    if told == Told::Misread {
        misread(&mut seen, disc, &mut rng);
    }
    seen
}

fn misread(seen: &mut Seen, disc: &Disc, rng: &mut Rng) {
    let is_room = |spot: Spot| disc.is_free(disc.turned(spot, 2));
    let can_be = |&spot: &Spot| !disc.is_free(spot) && is_room(spot);
    let strands: Vec<Spot> = disc.rim().filter(can_be).collect();
    if strands.is_empty() {
        return;
    }
    let spot = strands[rng.usize(..strands.len())];
    let strand = seen.spots.insert(place(spot), What::Empty);
    let beside = place(disc.turned(spot, 2));
    seen.spots.extend(strand.map(|strand| (beside, strand)));
}

#[test]
fn a_misread_slot_is_one_strand_elsewhere() {
    let disc = Disc::laid(32, [2, 20, 40]);
    let tell = |told| tell(&disc, &[0, 1, 2], told, false, 7).spots;
    let (right, wrong) = (tell(Told::Everything), tell(Told::Misread));
    assert_eq!(right.len(), 32);
    assert_eq!(wrong.len(), 32);
    let differs = right.iter().filter(|(place, what)| wrong[*place] != **what);
    assert_eq!(differs.count(), 2);
}
