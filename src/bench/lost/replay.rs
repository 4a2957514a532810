//! How hands go on after a mistake. They make the counted moves by slot numbers as long
//! as that can be done. Where it cannot they stop, or leave the move out, or from there
//! on go by the picture: the nearest strand, to the next free slot. Of two as near
//! either may be taken. All of this is followed at once.

use super::counted::Counted;
use super::disc::{Carry, Disc, Rim};
use super::guess;
use super::slip::{Reading, Slipping};

/// What is as unlikely as that is not followed.
const UNLIKELY: f64 = 0.01;
/// Bits of a choice on a path.
const BITS: u32 = 3;
/// Choices that a path has room for.
const MOST_CHOICES: u32 = u64::BITS / BITS;

/// How hands go on where a counted move cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Manner {
    /// As it comes.
    Open,
    /// They leave it out.
    LeaveOut,
    /// They go by the picture.
    Picture,
}

/// The choices made where a move could not be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Path {
    choices: u64,
    count: u32,
}

impl Path {
    /// The first of the nearest, every time.
    pub(super) fn nearest() -> Self {
        let once = Choice::Nearest(0).number();
        Self {
            choices: (0..MOST_CHOICES).fold(0, |all, at| all | once << (BITS * at)),
            count: MOST_CHOICES,
        }
    }

    fn and(self, choice: Choice) -> Self {
        Self {
            choices: self.choices | choice.number() << (BITS * self.count),
            count: self.count + 1,
        }
    }

    fn is_full(self) -> bool {
        self.count == MOST_CHOICES
    }

    fn next(&mut self) -> u64 {
        let choice = self.choices & ((1 << BITS) - 1);
        self.choices >>= BITS;
        choice
    }
}

/// What is done for a move that cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Choice {
    Stop,
    LeaveOut,
    /// The strand and the slot are the first or the second that is as near.
    Nearest(u64),
}

impl Choice {
    fn number(self) -> u64 {
        match self {
            Self::Stop => 0,
            Self::LeaveOut => 1,
            Self::Nearest(which) => 2 + which,
        }
    }

    fn of(number: u64) -> Self {
        match number {
            0 => Self::Stop,
            1 => Self::LeaveOut,
            more => Self::Nearest(more - 2),
        }
    }
}

/// Hands on the way: the disc, how they go on, and how likely they came there.
#[derive(Debug, Clone)]
pub(super) struct Hands {
    pub(super) disc: Disc,
    /// How likely, beside other ways on.
    pub(super) likely: f64,
    pub(super) path: Path,
    manner: Manner,
}

impl Hands {
    /// At a disc, with nothing chosen yet.
    pub(super) fn at(disc: Disc) -> Self {
        Self {
            disc,
            likely: 1.0,
            path: Path::default(),
            manner: Manner::Open,
        }
    }

    /// The same hands, that do something else.
    fn choosing(&self, choice: Choice, likely: f64, manner: Manner) -> Self {
        Self {
            disc: self.disc.clone(),
            likely: self.likely * likely,
            path: self.path.and(choice),
            manner,
        }
    }
}

/// What hands that go by the picture may do for a move: the strand nearest to where it
/// should lie, to the free slot nearest to where it should go. First or second of as
/// near ones, two bits.
fn by_picture(rim: Rim, disc: &Disc, one: Carry, which: u64) -> Option<Carry> {
    let from = disc.nearest(rim, one.from, |spot| disc.is_full(spot));
    let from = *from.get(which as usize & 1)?;
    let is_room = |spot: u16| spot != from && !disc.is_full(spot);
    let to = disc.nearest(rim, one.to, is_room);
    let to = *to.get(which as usize >> 1)?;
    Some(Carry { from, to })
}

/// The moves that hands mean to make from a moment on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Script<'a> {
    counted: &'a Counted,
    /// First these.
    instead: &'a [Carry],
    /// Then the counted ones from here …
    resume: usize,
    /// … read so …
    reading: Reading,
    /// … up to here.
    end: usize,
}

impl<'a> Script<'a> {
    /// A mistake and all that follows up to a moment; none if it reaches beyond.
    pub(super) fn after(counted: &'a Counted, slipping: &'a Slipping, end: usize) -> Option<Self> {
        (slipping.resume <= end).then_some(Self {
            counted,
            instead: &slipping.instead,
            resume: slipping.resume,
            reading: slipping.reading,
            end,
        })
    }

    fn len(&self) -> usize {
        self.instead.len() + self.end - self.resume
    }

    fn at(&self, index: usize) -> Option<Carry> {
        match index.checked_sub(self.instead.len()) {
            None => self.instead.get(index).copied(),
            Some(on) => self.counted.read(self.resume + on, self.reading),
        }
    }

    /// Makes the moves; every end that hands come to.
    pub(super) fn play(&self, hands: Hands, end: &mut impl FnMut(&Hands)) {
        self.play_from(0, hands, end);
    }

    fn play_from(&self, index: usize, mut hands: Hands, end: &mut impl FnMut(&Hands)) {
        for index in index..self.len() {
            let Some(one) = self.at(index) else { continue };
            if hands.disc.can(one) {
                hands.disc.carry(one);
            } else if self.choose(index, one, &mut hands, end) {
                return;
            }
        }
        end(&hands);
    }

    /// Goes on in every way where a move cannot be made; false if it is left out.
    fn choose(
        &self,
        index: usize,
        one: Carry,
        hands: &mut Hands,
        end: &mut impl FnMut(&Hands),
    ) -> bool {
        if hands.manner == Manner::LeaveOut {
            hands.path = hands.path.and(Choice::LeaveOut);
            return hands.path.is_full();
        }
        if hands.path.is_full() || hands.likely < UNLIKELY {
            return true;
        }
        let mut picture = 1.0;
        // Whoever makes a mistake means to do it somehow.
        let is_the_mistake = index < self.instead.len();
        if hands.manner == Manner::Open && !is_the_mistake {
            end(&hands.choosing(Choice::Stop, guess::STOP, Manner::Open));
            let left = hands.choosing(Choice::LeaveOut, guess::LEAVE_OUT, Manner::LeaveOut);
            self.play_from(index + 1, left, end);
            picture = guess::PICTURE;
        }
        let rim = self.counted.rim;
        let can = |which: &u64| by_picture(rim, &hands.disc, one, *which).is_some();
        let ways = (0..4).filter(can).count() as f64;
        for which in 0..4 {
            if let Some(does) = by_picture(rim, &hands.disc, one, which) {
                let nearest = Choice::Nearest(which);
                let manner = if is_the_mistake {
                    hands.manner
                } else {
                    Manner::Picture
                };
                let mut other = hands.choosing(nearest, picture / ways, manner);
                other.disc.carry(does);
                self.play_from(index + 1, other, end);
            }
        }
        true
    }

    /// What is really made on a path, and the path that is left; the disc is changed.
    pub(super) fn made(&self, disc: &mut Disc, path: &mut Path) -> Vec<Carry> {
        let mut made = Vec::with_capacity(self.len());
        for index in 0..self.len() {
            let Some(one) = self.at(index) else { continue };
            let one = match disc.can(one) {
                true => Some(one),
                false => match Choice::of(path.next()) {
                    Choice::Stop => break,
                    Choice::LeaveOut => None,
                    Choice::Nearest(which) => by_picture(self.counted.rim, disc, one, which),
                },
            };
            if let Some(one) = one {
                disc.carry(one);
                made.push(one);
            }
        }
        made
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::lost::Known;
    use crate::bench::lost::slip::slips_at;
    use crate::structure::{Braid, shelf};

    #[test]
    fn hands_come_where_their_path_leads() {
        for structure in shelf().iter().filter(|s| s.strands() <= 16) {
            let braid = Braid::new(&structure.moves).unwrap();
            let roles: Vec<usize> = (0..braid.strands()).collect();
            let counted = Counted::new(&Known {
                braid: &braid,
                roles: &roles,
                done: 50,
                looks: &roles,
                within: 12,
            });
            for at in counted.now - counted.within..=counted.now {
                for slipping in slips_at(&counted, &counted.discs[at], at) {
                    let Some(script) = Script::after(&counted, &slipping, counted.now) else {
                        continue;
                    };
                    let mut likely = 0.0;
                    script.play(Hands::at(counted.discs[at].clone()), &mut |hands| {
                        likely += hands.likely;
                        let mut again = counted.discs[at].clone();
                        let _ = script.made(&mut again, &mut hands.path.clone());
                        assert_eq!(again, hands.disc, "{} {slipping:?}", structure.name);
                    });
                    assert!(likely < 1.0 + 1e-9, "{likely}");
                }
            }
        }
    }
}
