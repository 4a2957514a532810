//! The mistakes that hands make.

use fastrand::Rng;

use super::person::Other;

/// How a disc was turned instead of as it should.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Turned {
    /// A quarter clockwise too far.
    Quarter,
    /// A quarter too little, or not at all.
    Back,
    /// Half round: a quarter the wrong way.
    Half,
}

/// A mistake.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Slip {
    /// So many moves were made and not counted.
    NotCounted(u64),
    /// So many were counted that were not made, and were made then.
    CountedTwice(u64),
    /// A move was left out and counted.
    SkippedMove,
    /// A pair was.
    SkippedPair,
    /// A round was.
    SkippedRound,
    /// The last move was made once more, uncounted, as well as it went.
    MoveTwice,
    /// The last pair was.
    PairTwice,
    /// The last round was, on by the drift of the rounds.
    RoundTwice,
    /// One move, or a pair, was made as in a mirror.
    WrongHand {
        /// Both moves of a pair.
        pair: bool,
    },
    /// A strand was laid so many slots clockwise of its slot.
    WrongSlot(i64),
    /// Another strand was taken.
    WrongStrand(Other),
    /// The disc was turned wrongly, for the next two moves or from there on.
    WrongTurn {
        /// How.
        turned: Turned,
        /// From there on.
        for_good: bool,
    },
    /// Two neighbours changed places.
    Swapped {
        /// Which way round.
        clockwise: bool,
    },
    /// Moves were taken back from there on, and counted as made.
    Backwards,
    /// All was worked as in a mirror from there on.
    Mirrored,
}

/// Kinds of mistake, as the tables name them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Kind {
    Counter,
    SkippedMove,
    SkippedPair,
    SkippedRound,
    Twice,
    RoundTwice,
    WrongHand,
    SlotByOne,
    SlotByTwo,
    WrongStrand,
    WrongTurn,
    Swapped,
    Reversed,
}

impl Kind {
    pub(crate) const ALL: [Self; 13] = [
        Self::Counter,
        Self::SkippedMove,
        Self::SkippedPair,
        Self::SkippedRound,
        Self::Twice,
        Self::RoundTwice,
        Self::WrongHand,
        Self::SlotByOne,
        Self::SlotByTwo,
        Self::WrongStrand,
        Self::WrongTurn,
        Self::Swapped,
        Self::Reversed,
    ];

    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Counter => "counter wrong by up to 3",
            Self::SkippedMove => "move skipped",
            Self::SkippedPair => "pair skipped",
            Self::SkippedRound => "round skipped",
            Self::Twice => "move or pair twice",
            Self::RoundTwice => "round twice",
            Self::WrongHand => "wrong hand",
            Self::SlotByOne => "wrong slot by 1",
            Self::SlotByTwo => "wrong slot by 2",
            Self::WrongStrand => "wrong strand",
            Self::WrongTurn => "disc turned wrongly",
            Self::Swapped => "neighbours swapped",
            Self::Reversed => "direction reversed",
        }
    }

    /// How often among a hundred mistakes, our guess: nobody has counted them.
    pub(crate) fn weight(self) -> f64 {
        match self {
            Self::Counter | Self::SkippedMove | Self::SlotByOne | Self::WrongStrand => 12.0,
            Self::SkippedPair | Self::Twice | Self::WrongHand | Self::WrongTurn => 8.0,
            Self::SlotByTwo | Self::Swapped => 6.0,
            Self::SkippedRound => 4.0,
            Self::RoundTwice | Self::Reversed => 2.0,
        }
    }

    /// One of the mix.
    pub(crate) fn any(rng: &mut Rng) -> Self {
        let all: f64 = Self::ALL.iter().map(|kind| kind.weight()).sum();
        let mut at = rng.f64() * all;
        let mut kinds = Self::ALL.into_iter();
        let drawn = kinds.find(|kind| {
            at -= kind.weight();
            at < 0.0
        });
        drawn.unwrap_or(Self::SkippedMove)
    }

    /// A mistake of this kind.
    pub(crate) fn slip(self, rng: &mut Rng) -> Slip {
        let way = |rng: &mut Rng| if rng.bool() { 1 } else { -1 };
        match self {
            Self::Counter if rng.bool() => Slip::NotCounted(rng.u64(1..=3)),
            Self::Counter => Slip::CountedTwice(rng.u64(1..=3)),
            Self::SkippedMove => Slip::SkippedMove,
            Self::SkippedPair => Slip::SkippedPair,
            Self::SkippedRound => Slip::SkippedRound,
            Self::Twice if rng.bool() => Slip::MoveTwice,
            Self::Twice => Slip::PairTwice,
            Self::RoundTwice => Slip::RoundTwice,
            Self::WrongHand => Slip::WrongHand { pair: rng.bool() },
            Self::SlotByOne => Slip::WrongSlot(way(rng)),
            Self::SlotByTwo => Slip::WrongSlot(2 * way(rng)),
            Self::WrongStrand => Slip::WrongStrand(one_of(
                [Other::Partner, Other::Clockwise, Other::Anticlockwise],
                rng,
            )),
            Self::WrongTurn => Slip::WrongTurn {
                turned: one_of([Turned::Quarter, Turned::Back, Turned::Half], rng),
                for_good: rng.bool(),
            },
            Self::Swapped => Slip::Swapped {
                clockwise: rng.bool(),
            },
            Self::Reversed if rng.bool() => Slip::Backwards,
            Self::Reversed => Slip::Mirrored,
        }
    }
}

fn one_of<T: Copy>(all: [T; 3], rng: &mut Rng) -> T {
    all[rng.usize(..3)]
}
