//! A place named wrongly: one place off, or anywhere; in one step, or in all that are
//! made alike further round the disc.

use super::{Change, MOVES_TRIED, Tried};
use crate::structure::{Move, MoveList, Place};

/// Another place for an end of a move.
#[derive(Debug, Clone, Copy)]
struct Slip {
    /// Counted from 1.
    step: usize,
    /// Which move of the step.
    at: usize,
    is_landing: bool,
    from: Place,
    to: Place,
}

impl Slip {
    /// The list with the other place, and the same with it in all steps alike.
    fn tried(self, list: &MoveList) -> Vec<Tried> {
        let mut once = list.clone();
        self.put(&mut once, self.step, 0);
        let alike = self.alike(list);
        let tried = (once, self.change());
        if alike.is_empty() {
            return vec![tried];
        }
        let mut all = tried.0.clone();
        for &(step, on) in &alike {
            self.put(&mut all, step, on);
        }
        vec![tried, (all, self.change_of_all(&alike, list.slots))]
    }

    /// Told of the earliest step, and of the others as like it.
    fn change_of_all(self, alike: &[(usize, i32)], slots: u16) -> Change {
        let own = (self.step, 0);
        let all = || alike.iter().copied().chain([own]);
        let (step, on) = all().min().unwrap_or(own);
        let first = Self {
            step,
            from: self.from.turned(on, slots),
            to: self.to.turned(on, slots),
            ..self
        };
        let mut steps: Vec<usize> = all().map(|(other, _)| other).collect();
        steps.retain(|&other| other != step);
        steps.sort_unstable();
        Change::Alike {
            first: Box::new(first.change()),
            steps,
        }
    }

    fn put(self, list: &mut MoveList, step: usize, on: i32) {
        let place = self.to.turned(on, list.slots);
        let one = &mut list.steps[step - 1].moves[self.at];
        if self.is_landing {
            one.to = place;
        } else {
            one.from = place;
        }
    }

    fn change(self) -> Change {
        let Self { step, from, to, .. } = self;
        if self.is_landing {
            Change::LaidDown { step, from, to }
        } else {
            Change::TakenUp { step, from, to }
        }
    }

    /// The other steps that are this one further round, with half slots clockwise.
    fn alike(self, list: &MoveList) -> Vec<(usize, i32)> {
        let own = &list.steps[self.step - 1].moves;
        let on = |moves: &[Move]| {
            let (Some(Place::Rim(here)), Some(Place::Rim(there))) = (
                own.first().map(|one| one.from),
                moves.first().map(|one| one.from),
            ) else {
                return None;
            };
            let on = i32::from(there) - i32::from(here);
            let turned = |one: &Move| Move {
                from: one.from.turned(on, list.slots),
                to: one.to.turned(on, list.slots),
            };
            own.iter()
                .map(turned)
                .eq(moves.iter().copied())
                .then_some(on)
        };
        let steps = list.steps.iter().enumerate();
        let others = steps.filter(|(index, _)| index + 1 != self.step);
        others
            .filter_map(|(index, step)| Some((index + 1, on(&step.moves)?)))
            .collect()
    }
}

/// Every move one place off, those nearest to a step first, then every start.
pub(super) fn one_off(list: &MoveList, near: usize) -> Vec<Tried> {
    let mut moves: Vec<(usize, usize)> = Vec::new();
    for (index, step) in list.steps.iter().enumerate() {
        moves.extend((0..step.moves.len()).map(|at| (index + 1, at)));
    }
    moves.sort_by_key(|&(step, _)| step.abs_diff(near));
    moves.truncate(MOVES_TRIED);
    let off = moves
        .iter()
        .flat_map(|&(step, at)| move_off(list, step, at));
    let starts = (0..list.start.len()).flat_map(|strand| other_starts(list, strand));
    off.chain(starts).collect()
}

fn move_off(list: &MoveList, step: usize, at: usize) -> Vec<Tried> {
    let ends = |half: i32| [true, false].map(|is_landing| (is_landing, half));
    let slips = [-2, 2].into_iter().flat_map(ends);
    let tried = slips.flat_map(|(is_landing, half)| {
        let from = end(list.steps[step - 1].moves[at], is_landing);
        slip(step, at, is_landing, from, from.turned(half, list.slots)).map(|it| it.tried(list))
    });
    tried.flatten().collect()
}

/// The moves of a step that name a place, in any other slot, the nearest first.
pub(super) fn anywhere(list: &MoveList, step: usize, place: Place) -> Vec<Tried> {
    let moves = list.steps[step - 1].moves.iter().enumerate();
    let ends = moves.flat_map(|(at, &one)| [(at, one, true), (at, one, false)]);
    let named = ends.filter(|&(_, one, is_landing)| end(one, is_landing) == place);
    let slips = named.flat_map(|(at, _, is_landing)| {
        let others = slots_from(list, place).into_iter();
        others.filter_map(move |to| slip(step, at, is_landing, place, to))
    });
    slips.flat_map(|slip| slip.tried(list)).collect()
}

/// The last strand laid in a place, laid in another instead.
pub(super) fn landing(list: &MoveList, from: Place, to: Place) -> Vec<Tried> {
    let last = list.moves().filter(|(_, one)| one.to == from).last();
    let Some((step, _)) = last else {
        return Vec::new();
    };
    let moves = &list.steps[step - 1].moves;
    let at = moves.iter().rposition(|one| one.to == from).unwrap_or(0);
    let slip = slip(step, at, true, from, to);
    slip.map_or_else(Vec::new, |slip| slip.tried(list))
}

fn end(one: Move, is_landing: bool) -> Place {
    if is_landing { one.to } else { one.from }
}

fn slip(step: usize, at: usize, is_landing: bool, from: Place, to: Place) -> Option<Slip> {
    (from != to).then_some(Slip {
        step,
        at,
        is_landing,
        from,
        to,
    })
}

/// All slots, the nearest to a place by number first.
fn slots_from(list: &MoveList, place: Place) -> Vec<Place> {
    let number = |place: Place| match place {
        Place::Rim(half) => half,
        Place::Hand => 0,
    };
    let mut slots: Vec<Place> = (1..=list.slots).map(Place::slot).collect();
    slots.sort_by_key(|&slot| number(slot).abs_diff(number(place)));
    slots
}

/// A strand that starts one place off.
pub(super) fn other_starts(list: &MoveList, strand: usize) -> Vec<Tried> {
    let from = list.start[strand];
    let off = [-2, 2].map(|half| from.turned(half, list.slots));
    off.map(|to| other_start(list, strand, to)).into()
}

/// A strand that starts in any other slot, the nearest first.
pub(super) fn any_start(list: &MoveList, strand: usize) -> Vec<Tried> {
    let slots = slots_from(list, list.start[strand]).into_iter();
    slots.map(|to| other_start(list, strand, to)).collect()
}

fn other_start(list: &MoveList, strand: usize, to: Place) -> Tried {
    let mut other = list.clone();
    let from = std::mem::replace(&mut other.start[strand], to);
    (other, Change::Start { strand, from, to })
}
