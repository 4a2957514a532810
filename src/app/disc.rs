//! The disc as one sees it from above, and what the hands do on it.
//!
//! Everything is a share of the disc's radius `R`; slot `k` stands at
//! `(k - 1/2)` slot widths clockwise from the top, so that the four marks lie
//! between slots and pairs stand evenly about them. The numbers do not turn.
//!
//! The pointer: press a strand to choose it (Shift or Ctrl adds), pull it to a
//! slot, pull across the free middle to choose several, or paint. A chosen
//! strand also goes to the free slot that is pressed, so that nothing needs a
//! pull. The keyboard: arrows walk the slots, Home goes to the first, Enter takes and puts down, Space
//! adds to the choice, letters go to a strand, digits to a slot. While it is marked
//! what is seen, a press or Space marks, and digits are numbers to mark with.
//!
//! This module knows no design and changes nothing: it draws what it is lent
//! and hands back what was asked for.

mod draw;
mod glide;
mod hands;
mod keys;
mod names;
mod plate;
mod thread;

use std::collections::BTreeSet;

use eframe::egui::{Pos2, Sense, Ui};

use super::flags::Flags;
use super::theme::Theme;
use crate::bench::Side;
use crate::drawing::Filling;
use crate::material::{Appearance, Colour};
use crate::structure::{self, Move, Numbering, Place, Way};

pub use thread::strand_swatch;

/// What the pointer does on the disc.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DiscTool {
    /// Take strands and move them.
    #[default]
    Move,
    /// Put a colour on strands.
    Paint,
    /// Mark what is seen in each slot.
    Mark,
}

/// A strand as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct DiscStrand {
    /// Its letter.
    pub letter: String,
    /// Where it is.
    pub place: Place,
    /// Its colours, from one side to the other; as many as it has parts or ends.
    pub colours: Vec<Colour>,
    /// How many ends are held together.
    pub ends: u16,
    /// Thickness lying free, mm.
    pub thickness_mm: f64,
    /// How its surface looks.
    pub appearance: Appearance,
    /// How it is filled in besides its colour.
    pub filling: Option<Filling>,
    /// What it is, in a word or two, for the screen reader.
    pub words: String,
}

/// Nothing is marked.
static UNMARKED: Flags = Flags {
    strands: Vec::new(),
    places: Vec::new(),
};

/// All that the disc shows.
#[derive(Debug, Clone, Copy)]
pub struct DiscView<'a> {
    /// Number of slots, even, 4 to 128.
    pub slots: u16,
    /// Round, or square.
    pub plate: structure::Plate,
    /// How the maker numbers them.
    pub numbering: Numbering,
    /// The strands.
    pub strands: &'a [DiscStrand],
    /// What they are braided round, if anything.
    pub core: Option<&'a DiscStrand>,
    /// Those that are chosen, by their place in `strands`.
    pub chosen: &'a BTreeSet<usize>,
    /// What the pointer does.
    pub tool: DiscTool,
    /// The moves to make next, together; empty for none.
    pub next: &'a [Move],
    /// The moves just made.
    pub just_done: &'a [Move],
    /// Strands from the lowest to the uppermost over the hole; those not named
    /// lie lowest.
    pub order: &'a [usize],
    /// Places that would break the braid; still allowed.
    pub breaking: &'a [Place],
    /// Places of which it is not known what lies there.
    pub unsure: &'a [Place],
    /// Strands and places that are marked for something.
    pub flags: &'a Flags,
    /// Whether a strand may be left in the hand.
    pub hand: bool,
    /// Whether anything can be asked for.
    pub enabled: bool,
    /// Whether strands glide to their place.
    pub glides: bool,
    /// How far the disc is turned, clockwise, radians; the numbers stay upright.
    pub turn: f32,
    /// Whether it is read from afar: large, without letters, with the hand that is
    /// to work beside the strand.
    pub afar: bool,
    /// The hand that makes the next move.
    pub hand_next: Option<Side>,
    /// Which way round the strands of the next two moves pass, if they change places.
    pub exchange: Option<Way>,
    /// The moves after the next, faint.
    pub following: &'a [Move],
}

impl<'a> DiscView<'a> {
    /// A disc with these strands, and nothing going on.
    pub fn new(slots: u16, strands: &'a [DiscStrand], chosen: &'a BTreeSet<usize>) -> Self {
        Self {
            slots,
            plate: structure::Plate::default(),
            numbering: Numbering::default(),
            strands,
            core: None,
            chosen,
            tool: DiscTool::default(),
            next: &[],
            just_done: &[],
            order: &[],
            breaking: &[],
            unsure: &[],
            flags: &UNMARKED,
            hand: false,
            enabled: true,
            glides: true,
            turn: 0.0,
            afar: false,
            hand_next: None,
            exchange: None,
            following: &[],
        }
    }

    /// A place in words.
    fn phrase(&self, place: Place) -> String {
        self.numbering.phrase_on(self.plate, place, self.slots)
    }

    /// What is written at a place: its number, on a square plate that on its side.
    fn number(&self, place: Place) -> String {
        let label = self.numbering.label_on(self.plate, place, self.slots);
        match self.plate {
            structure::Plate::Disc => label,
            structure::Plate::Square => label.chars().filter(|c| !c.is_alphabetic()).collect(),
        }
    }

    /// The strand at a place, the uppermost if several were put there.
    fn strand_at(&self, place: Place) -> Option<usize> {
        self.strands.iter().rposition(|s| s.place == place)
    }

    /// Strands from the lowest to the uppermost.
    fn upwards(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.strands.len())
            .filter(|strand| !self.order.contains(strand))
            .collect();
        order.extend(self.order.iter().filter(|s| **s < self.strands.len()));
        order
    }
}

/// What was asked for on the disc.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DiscAsk {
    /// Choose a strand, alone or besides the others.
    Choose {
        /// Which.
        strand: usize,
        /// Whether the others stay chosen; then pressing it again lets it go.
        add: bool,
    },
    /// Choose exactly these.
    ChooseMany(Vec<usize>),
    /// Let go of the choice.
    LetGo,
    /// Carry a strand to a free place.
    Carry {
        /// Which.
        strand: usize,
        /// Where to.
        to: Place,
    },
    /// Put a strand where another sits, and that one where it came from.
    Swap {
        /// Which.
        strand: usize,
        /// The other.
        with: usize,
    },
    /// Put the colour of the brush on a strand.
    Paint {
        /// Which.
        strand: usize,
    },
    /// Take up the other tool.
    Tool(DiscTool),
    /// Mark a place, as the next of what can be seen there.
    Mark(Place),
    /// Mark a place with a number typed on it; digits that follow quickly are one number.
    Number {
        /// Where.
        place: Place,
        /// What was typed so far.
        number: usize,
    },
}

/// What the disc remembers from frame to frame.
#[derive(Debug, Clone, Default)]
pub struct DiscMemory {
    /// Slot the keyboard stands on, clockwise; 0 before it was ever there.
    cursor: u16,
    /// Strand taken up by the keyboard.
    carried: Option<usize>,
    pull: Option<Pull>,
    typed: String,
    typed_at: f64,
    /// Whether it is to have the keyboard.
    comes: bool,
    glides: glide::Glides,
}

impl DiscMemory {
    /// The disc has the keyboard from the next frame on.
    pub fn take_keyboard(&mut self) {
        self.comes = true;
    }
}

/// What the pointer is doing while its button is down.
#[derive(Debug, Clone, PartialEq)]
enum Pull {
    /// A strand follows it.
    Strand(usize),
    /// A band is drawn from here.
    Band(Pos2),
    /// Colour goes on; these have it.
    Brush(BTreeSet<usize>),
}

/// Draws the disc in the room there is and hands back what was asked for.
pub fn disc_ui(ui: &mut Ui, view: &DiscView<'_>, memory: &mut DiscMemory) -> Vec<DiscAsk> {
    let sense = if view.enabled {
        Sense::click_and_drag()
    } else {
        Sense::hover()
    };
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), sense);
    let plate = plate::Plate::fit(rect, view);
    if view.enabled && std::mem::take(&mut memory.comes) {
        response.request_focus();
    }
    let mut asks = Vec::new();
    names::name_disc(view, memory, &response);
    let pressed = names::parts(ui, view, &plate, &response);
    if view.enabled {
        hands::pointer(ui, view, &plate, memory, &pressed, &mut asks);
        keys::keyboard(ui, view, memory, &response, &mut asks);
    }
    memory.glides.follow(ui, view);
    if ui.is_rect_visible(rect) {
        let scene = draw::Scene {
            view,
            plate: &plate,
            memory,
            theme: &Theme::of(ui),
        };
        scene.draw(ui, &response);
    }
    asks
}

#[cfg(test)]
mod tests;
