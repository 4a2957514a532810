//! What is heard at the disc, and that its screen stays awake.
//!
//! Asked once a frame; something is heard only when the place is another than the last
//! time. The screen is let go when no step was made for long: a disc put down for the
//! night must not burn the screen.

use std::path::Path;
use std::time::Duration;

use eframe::egui::Context;

use super::{AtWork, Carried, Doing, Habits, Names, Place, Prompt, now};
use crate::app::awake::Awake;
use crate::app::tick::{Tick, Ticker};
use crate::app::voice::{self, Voice};
use crate::bench::Side;

/// The screen is kept awake for so long after a step, ms. Our guess.
const AWAKE: u64 = 20 * 60_000;

/// The voice, the ticks, and what keeps the screen awake.
#[derive(Debug)]
pub struct Heard {
    voice: Voice,
    ticker: Ticker,
    awake: Awake,
    last: Option<Stand>,
}

/// Where the work stood, and what was to be done there.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Stand {
    piece: String,
    laid: usize,
    done: u64,
    /// Steps made of a way back.
    made: Option<usize>,
    /// The hand that is due; none where two work or none in particular.
    hand: Option<Side>,
}

impl Stand {
    fn of(work: &AtWork, place: &Place, habits: &Habits) -> Self {
        let course = work.course();
        Self {
            piece: work.begun().piece.clone(),
            laid: course.laid,
            done: course.done,
            made: course.way.as_ref().map(|(_, made)| *made),
            hand: super::hand_shown(place, habits),
        }
    }

    /// Whether nothing was done since, whatever hand is due now.
    fn is_same_place(&self, other: &Self) -> bool {
        let place = |it: &Self| (it.laid, it.done, it.made);
        self.piece == other.piece && place(self) == place(other)
    }

    /// The tick for the step from here; none if it is another cord.
    fn tick(&self, then: &Self) -> Option<Tick> {
        if self.piece != then.piece {
            return None;
        }
        let on_way = self.made.is_some() || then.made.is_some();
        let is_back = match on_way {
            true => self.made > then.made && then.made.is_some(),
            false => then.done < self.done || then.laid < self.laid,
        };
        Some(match self.hand {
            _ if is_back => Tick::Back,
            Some(side) => Tick::Hand(side),
            None => Tick::Middle,
        })
    }
}

impl Heard {
    /// By the means of this system; sounds lie in `home`.
    pub(in crate::app) fn new(home: &Path) -> Self {
        Self {
            voice: Voice::default(),
            ticker: Ticker::new(home),
            awake: Awake::default(),
            last: None,
        }
    }

    /// What cannot be spoken, one sentence.
    pub fn no_voice(&self) -> Option<&'static str> {
        self.voice.lack()
    }

    /// What cannot tick, one sentence.
    pub fn no_tick(&self) -> Option<&'static str> {
        self.ticker.lack()
    }

    /// That the screen is not kept awake, one sentence.
    pub fn no_waking(&self) -> Option<&'static str> {
        self.awake.lack()
    }

    /// Has heard what there is to hear at the disc; `work` is the cord on the stage.
    pub(in crate::app) fn listen(&mut self, work: Option<&AtWork>, habits: &Habits, ctx: &Context) {
        self.keep_awake(work, ctx);
        let Some(work) = work else {
            self.last = None;
            return;
        };
        if !habits.speaking && !habits.tick {
            self.last = None;
            return;
        }
        let place = Place::of(work, habits.pairs, habits.disc_turns);
        let stand = Stand::of(work, &place, habits);
        let last = self.last.replace(stand.clone());
        if last.as_ref().is_some_and(|last| last.is_same_place(&stand)) {
            return;
        }
        let tick = last.and_then(|last| last.tick(&stand));
        if let Some(tick) = tick.filter(|_| habits.tick) {
            self.ticker.tick(tick);
        }
        if habits.speaking {
            self.voice.say(&said(work, &place, habits));
        }
    }

    /// Says once more what is next, also where speaking is off.
    pub(in crate::app) fn again(&self, work: &AtWork, habits: &Habits) {
        let place = Place::of(work, habits.pairs, habits.disc_turns);
        self.voice.say(&said(work, &place, habits));
    }

    fn keep_awake(&mut self, work: Option<&AtWork>, ctx: &Context) {
        let course = work.map(AtWork::course).filter(|course| !course.finished);
        let last = course.map(|course| course.log.last().map_or(0, |&(_, at)| at));
        let began = work.map_or(0, |work| work.begun().began);
        let left = last.map(|last| (last.max(began) + AWAKE).saturating_sub(now()));
        let left = left.filter(|&left| left > 0);
        self.awake.keep(left.is_some());
        if let Some(left) = left {
            ctx.request_repaint_after(Duration::from_millis(left));
        }
    }
}

/// What is said of the next step: short for a move, the reader's words for the rest.
fn said(work: &AtWork, place: &Place, habits: &Habits) -> String {
    let names = Names::of(work);
    let moved = |it: &Carried| {
        let one = it.moves.first()?;
        let ends = [names.label(one.from), names.label(one.to)];
        Some(match it.exchange {
            Some(way) => voice::exchanged(&ends, way),
            None => voice::moved(&ends, habits.hand(it.side)),
        })
    };
    match &place.doing {
        Doing::Moving(carried) | Doing::Returning(carried) => {
            let all: Vec<String> = carried.iter().filter_map(moved).collect();
            all.join("; ")
        }
        Doing::Laying(_) | Doing::Off => Prompt::of(work, place, habits).spoken,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stand(laid: usize, done: u64, made: Option<usize>) -> Stand {
        Stand {
            piece: "a".to_owned(),
            laid,
            done,
            made,
            hand: Some(Side::Right),
        }
    }

    #[test]
    fn a_step_on_ticks_as_its_hand_and_a_step_back_low() {
        let right = Some(Tick::Hand(Side::Right));
        assert_eq!(stand(8, 4, None).tick(&stand(8, 5, None)), right);
        assert_eq!(stand(8, 5, None).tick(&stand(8, 4, None)), Some(Tick::Back));
        assert_eq!(stand(3, 0, None).tick(&stand(2, 0, None)), Some(Tick::Back));
        let two_hands = Stand {
            hand: None,
            ..stand(8, 4, None)
        };
        assert_eq!(two_hands.tick(&stand(8, 7, None)), Some(Tick::Middle));
        let other = Stand {
            piece: "b".to_owned(),
            ..stand(8, 5, None)
        };
        assert_eq!(stand(8, 4, None).tick(&other), None);
    }

    #[test]
    fn steps_along_a_way_back_are_steps_on() {
        let right = Some(Tick::Hand(Side::Right));
        assert_eq!(stand(8, 9, Some(0)).tick(&stand(8, 9, Some(1))), right);
        assert_eq!(
            stand(8, 9, Some(2)).tick(&stand(8, 6, None)),
            right,
            "its end"
        );
        let taken_back = stand(8, 9, Some(2)).tick(&stand(8, 9, Some(1)));
        assert_eq!(taken_back, Some(Tick::Back));
    }
}
