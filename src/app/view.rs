//! What the maker is looking at; not in the file and not undone.

use super::controls::Tone;
use super::controls::UndoSlip;
use super::stage::Stage;
use super::stage::braid::BraidState;
use super::stage::cut::CutState;
use super::stage::fit::OtherWay;
use super::stage::look::LookView;
use super::strip::StripView;
use super::take_slip::TakeSlip;

/// Everything about looking, none of it about the cord.
#[derive(Debug, Default)]
pub struct View {
    /// The stage shown.
    pub stage: Stage,
    /// The Look stage.
    pub look: LookView,
    /// The Cut stage.
    pub cut: CutState,
    /// The Braid stage.
    pub braid: BraidState,
    /// What is asked for on the Fit stage.
    pub other_way: OtherWay,
    /// The strip.
    pub strip: StripView,
    /// The file slip.
    pub files: FileSlip,
    /// The slip with what can be taken along.
    pub take: TakeSlip,
    /// What the last change was, while it is still shown.
    pub slip: Option<UndoSlip>,
    /// What happened and has not been put away.
    pub messages: Vec<Message>,
    /// The name or remark being typed, while it is.
    pub naming: Option<Typing>,
}

/// Words of the design being typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Typing {
    /// Its name.
    Name(String),
    /// Its remark.
    Note(String),
}

/// The slip with file commands and a box for a path.
#[derive(Debug, Default)]
pub struct FileSlip {
    /// Whether it is shown.
    pub open: bool,
    /// What is typed into the box.
    pub path: String,
}

/// What happened, what was kept, what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Message {
    /// How grave it is.
    pub tone: Tone,
    /// What happened, one sentence.
    pub happened: String,
    /// What was kept, one sentence.
    pub kept: String,
    /// What to do, one sentence.
    pub advice: String,
    /// What can be asked for in answer.
    pub offers: Offers,
}

/// What a message offers beside being put away.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Offers {
    /// Nothing more.
    #[default]
    Nothing,
    /// To try again; it goes with the next change that is made.
    Again,
    /// To take the last change back; it goes by itself.
    Undo,
    /// To open what a crash left, counted from 0.
    Recovery(usize),
    /// To throw away what a crash left and cannot be read.
    Broken(usize),
}

impl View {
    /// Shows the palettes.
    pub fn show_palettes(&mut self) {
        self.stage = Stage::Look;
        self.look.show_palettes();
    }

    /// Shows a message, once.
    pub fn tell(&mut self, message: Message) {
        if !self.messages.contains(&message) {
            self.messages.push(message);
        }
    }
}
