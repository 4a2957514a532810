//! How hands go on after a mistake: they make the counted moves by slot numbers as long
//! as that can be done, and then do one thing or another.
//!
//! All rules are followed at once. A set of rules is a set of bits; where a move cannot
//! be made the rules that do the same stay together.

use super::counted::Counted;
use super::disc::{Carry, Disc, Rim};
use super::guess;
use super::slip::{Reading, Slipping};

/// Rules, one bit each.
pub(super) type Rules = u8;

/// The hands stop.
const STOP: Rules = 1;
/// What cannot be made is left out.
const LEAVE_OUT: Rules = 2;
/// The first of those that take the nearest strand and the next free slot.
const FIRST_NEAREST: usize = 2;
/// All of them.
pub(super) const ALL: Rules = 0xff;
/// Those tried where two mistakes are looked for; hands that stop make no second one.
pub(super) const FEW: Rules = 0b0000_1110;

/// Nearest strand: the way looked first. Free slot: the way looked first, and whether
/// the other way is looked at all.
const NEAREST: [(i32, i32, bool); 6] = [
    (1, 1, true),
    (-1, -1, true),
    (1, -1, true),
    (-1, 1, true),
    (1, 1, false),
    (-1, -1, false),
];

/// How likely hands follow one of some rules.
pub(super) fn likely(rules: Rules) -> f64 {
    let nearest = (rules >> FIRST_NEAREST).count_ones();
    f64::from(rules & STOP) * guess::STOP
        + f64::from((rules & LEAVE_OUT) >> 1) * guess::LEAVE_OUT
        + f64::from(nearest) * guess::NEAREST / NEAREST.len() as f64
}

/// What one of the nearest rules does for a move that cannot be made.
fn nearest(rim: Rim, disc: &Disc, one: Carry, rule: usize) -> Option<Carry> {
    let (strand, slot, both) = NEAREST[rule];
    let from = if disc.is_full(one.from) {
        one.from
    } else {
        disc.nearest_full(rim, one.from, strand)?
    };
    let to = match (disc.is_full(one.to), both) {
        (false, _) => one.to,
        (true, true) => disc.nearest_free(rim, one.to, slot)?,
        (true, false) => disc.next_free(rim, one.to, slot)?,
    };
    Some(Carry { from, to })
}

/// The moves that hands mean to make from a moment on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Script<'a> {
    pub(super) counted: &'a Counted,
    /// First these.
    pub(super) instead: &'a [Carry],
    /// Then the counted ones from here …
    pub(super) resume: usize,
    /// … read so …
    pub(super) reading: Reading,
    /// … up to here.
    pub(super) end: usize,
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

    /// Makes the moves from `index` on by some rules; every end that it comes to, with
    /// the rules that lead there.
    pub(super) fn play(
        &self,
        mut disc: Disc,
        index: usize,
        mut rules: Rules,
        end: &mut impl FnMut(&Disc, Rules),
    ) {
        for index in index..self.len() {
            let Some(one) = self.at(index) else { continue };
            if disc.can(one) {
                disc.carry(one);
                continue;
            }
            if rules & STOP != 0 {
                end(&disc, STOP);
                rules &= !STOP;
            }
            rules = self.part(&disc, index, one, rules, end);
            // What is left of the rules leaves the move out.
            if rules == 0 {
                return;
            }
        }
        if rules != 0 {
            end(&disc, rules);
        }
    }

    /// Plays the rules that do something at a move that cannot be made; the others.
    fn part(
        &self,
        disc: &Disc,
        index: usize,
        one: Carry,
        rules: Rules,
        end: &mut impl FnMut(&Disc, Rules),
    ) -> Rules {
        let mut left = rules & LEAVE_OUT;
        let mut groups: [(Option<Carry>, Rules); NEAREST.len()] = [(None, 0); NEAREST.len()];
        let mut count = 0;
        for rule in 0..NEAREST.len() {
            let bit = rules & (1 << (FIRST_NEAREST + rule));
            if bit == 0 {
                continue;
            }
            let does = nearest(self.counted.rim, disc, one, rule);
            if does.is_none() {
                left |= bit;
                continue;
            }
            let same = groups[..count].iter().position(|(other, _)| *other == does);
            let group = same.unwrap_or(count);
            count = count.max(group + 1);
            groups[group] = (does, groups[group].1 | bit);
        }
        for &(does, bits) in &groups[..count] {
            let Some(does) = does else { continue };
            let mut other = disc.clone();
            other.carry(does);
            self.play(other, index + 1, bits, end);
        }
        left
    }

    /// What is really made by one rule, the lowest of some; the disc is changed.
    pub(super) fn made(&self, disc: &mut Disc, rules: Rules) -> Vec<Carry> {
        let rule = rules.trailing_zeros() as usize;
        let mut made = Vec::with_capacity(self.len());
        for index in 0..self.len() {
            let Some(one) = self.at(index) else { continue };
            let one = if disc.can(one) {
                Some(one)
            } else if rule == 0 {
                break;
            } else {
                let nearest_rule = rule.checked_sub(FIRST_NEAREST);
                nearest_rule.and_then(|rule| nearest(self.counted.rim, disc, one, rule))
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
    fn rules_are_likely_one_in_all() {
        assert!((likely(ALL) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn each_rule_comes_to_the_end_that_it_is_said_to_come_to() {
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
            for at in counted.moments() {
                for slipping in slips_at(&counted, &counted.discs[at], at) {
                    let Some(script) = Script::after(&counted, &slipping, counted.now) else {
                        continue;
                    };
                    let mut seen = 0;
                    script.play(counted.discs[at].clone(), 0, ALL, &mut |disc, rules| {
                        assert_eq!(seen & rules, 0, "each rule ends once");
                        seen |= rules;
                        let mut again = counted.discs[at].clone();
                        script.made(&mut again, rules);
                        assert_eq!(&again, disc, "{} {slipping:?}", structure.name);
                    });
                    assert_eq!(seen, ALL);
                }
            }
        }
    }
}
