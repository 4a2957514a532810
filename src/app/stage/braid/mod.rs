//! Braid: the work at the disc, made for a glance from a metre away.
//!
//! At the left the disc as it lies before the maker now, with one arrow; at the right
//! what is to be done, as large as can be. A press anywhere off a control goes on. What
//! stands at the right can be something else for a while: [`BraidView`].

mod aside;
mod check;
mod column;
mod disc;
mod entry;
mod far;
mod foot;
mod glance;
mod hints;
mod kept_design;
pub mod keys;
mod little;
mod log;
mod looks;
mod notes;
mod settings;
mod under_way;
mod undoing;
mod work;
mod wrong;

use eframe::egui::{Rect, Sense, Ui, UiBuilder, Vec2, pos2, vec2};

use crate::app::at_disc::{AtWork, Doing, Habits, Hands, Place, Prompt};
use crate::app::command::Command;
use crate::app::controls::{Notice, Tone};
use crate::app::desk::Desk;
use crate::app::disc::DiscMemory;
use crate::app::easel::Easel;
use crate::quantity::UnitSystem;

use aside::Aside;
use keys::Presses;

/// Margin beside what is read.
const MARGIN: f32 = 24.0;

/// What stands at the right of the disc.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BraidView {
    /// The next move.
    #[default]
    Next,
    /// What to do when something looks wrong.
    Wrong,
    /// How far moves are taken back.
    Undoing,
    /// What is noted on the way.
    Notes,
    /// How she works.
    Settings,
    /// The log of the cord.
    Log,
}

/// How the stage is looked at.
#[derive(Debug, Default)]
pub struct BraidState {
    /// What stands at the right of the disc.
    pub view: BraidView,
    /// Whether the stage fills the window.
    pub full: bool,
    /// Whether the dressed disc was compared with its picture.
    checked: bool,
    /// Whether the next key pressed becomes her own.
    pub(in crate::app) learning: bool,
    pub(in crate::app) presses: Presses,
    disc: DiscMemory,
    aside: Aside,
    /// How far the disc was turned last, radians, without going back at a whole turn.
    turned: f32,
}

impl BraidState {
    /// Turns to something else at the right.
    pub fn show(&mut self, view: BraidView) {
        self.view = view;
        self.learning = false;
        self.aside.comes(view);
    }

    /// Another cord is at the disc.
    pub(in crate::app) fn begin(&mut self) {
        self.show(BraidView::Next);
        self.checked = false;
        self.disc = DiscMemory::default();
        self.aside = Aside::default();
    }

    /// Whether a press off the controls is a step.
    pub(in crate::app) fn steps(&self) -> bool {
        self.view == BraidView::Next && !self.learning
    }

    /// Whether the dressed disc is compared with its picture now.
    pub(in crate::app) fn is_compared(&self, work: &AtWork) -> bool {
        let course = work.course();
        let is_fresh = course.is_dressed() && course.done == 0 && course.way.is_none();
        is_fresh && !self.checked && !course.finished
    }

    /// The disc was compared with its picture, or is to be again.
    pub(in crate::app) fn compared(&mut self, is_right: bool) {
        self.checked = is_right;
    }
}

/// All that the stage shows of a cord.
#[derive(Clone, Copy)]
struct BraidScene<'a> {
    work: &'a AtWork,
    place: &'a Place,
    prompt: &'a Prompt,
    habits: &'a Habits,
    units: UnitSystem,
    desk: &'a Desk<'a>,
}

/// Draws the stage in `rect`.
pub(in crate::app) fn stage_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    state: &mut BraidState,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let Some(work) = desk.at_disc.work() else {
        entry::entry_ui(ui, rect, desk, wants);
        return;
    };
    let habits = &desk.settings.at_disc;
    let place = Place::of(work, habits.pairs, habits.disc_turns);
    let prompt = Prompt::of(work, &place, habits);
    let scene = BraidScene {
        work,
        place: &place,
        prompt: &prompt,
        habits,
        units: desk.units(),
        desk,
    };
    anywhere(ui, rect, work, state, wants);
    let rect = trouble_ui(ui, rect, scene);
    let [left, right] = halves(rect);
    let builder = UiBuilder::new().max_rect(left).id_salt("disc");
    ui.scope_builder(builder, |ui| match state.view {
        BraidView::Wrong if aside::can_compare(scene) => aside::disc_ui(ui, scene, state),
        _ => disc::disc_ui(ui, scene, state),
    });
    let builder = UiBuilder::new().max_rect(right).id_salt("beside");
    ui.scope_builder(builder, |ui| beside_ui(ui, scene, state, easel, wants));
}

/// A click or touch off every control goes on.
fn anywhere(ui: &Ui, rect: Rect, work: &AtWork, state: &mut BraidState, wants: &mut Vec<Command>) {
    // Laid down before the controls, which lie over it; no stop of the Tab key.
    let response = ui.interact(rect, ui.scope_id().with("anywhere"), Sense::CLICK);
    if response.clicked() && state.steps() {
        let now = ui.input(|input| input.time);
        wants.extend(keys::on(work, state, now));
    }
}

/// Says at the top of the stage that the place is not kept, or that its file was found
/// damaged; what is left of the stage.
fn trouble_ui(ui: &mut Ui, rect: Rect, scene: BraidScene<'_>) -> Rect {
    let done = scene.place.done;
    let [happened, kept, advice] = match (scene.desk.at_disc.trouble(), scene.work.damage()) {
        (Some(trouble), _) => [
            format!("The place is not kept: {trouble}."),
            format!("The disc is shown as it was written last, after {done} moves."),
            "See that there is room on the disk and that its folder can be written to, then \
             press again."
                .to_owned(),
        ],
        (None, Some(damage)) => [
            "The file of this place was damaged.".to_owned(),
            damage,
            "Compare the disc with the picture before you go on.".to_owned(),
        ],
        (None, None) => return rect,
    };
    let is_lost = scene.desk.at_disc.trouble().is_some();
    let bar = Rect::from_min_max(
        rect.min + vec2(MARGIN, 4.0),
        pos2(rect.right() - MARGIN, rect.bottom()),
    );
    let notice = Notice {
        tone: if is_lost { Tone::Stop } else { Tone::Caution },
        happened: &happened,
        kept: &kept,
        advice: &advice,
    };
    let builder = UiBuilder::new().max_rect(bar).id_salt("trouble");
    let shown = ui.scope_builder(builder, |ui| notice.show(ui).rect);
    rect.with_min_y(shown.inner.bottom() + 6.0)
}

/// The disc and what stands beside it, or under it where the stage is upright.
fn halves(rect: Rect) -> [Rect; 2] {
    if rect.width() < 0.95 * rect.height() {
        let split = rect.top() + (0.54 * rect.height()).min(rect.width());
        let right = rect.with_min_y(split).shrink2(vec2(MARGIN, 0.0));
        return [rect.with_max_y(split), right];
    }
    let margin = if rect.width() < 700.0 { 12.0 } else { MARGIN };
    let column = (0.42 * rect.width()).max(260.0);
    let split = rect.right() - margin - column;
    let side = (split - rect.left()).min(rect.height());
    let middle = pos2(0.5 * (rect.left() + split), rect.center().y);
    let disc = Rect::from_center_size(middle, Vec2::splat(side));
    let right = Rect::from_min_max(
        pos2(split, rect.top()),
        pos2(rect.right() - margin, rect.bottom()),
    );
    [disc, right]
}

fn beside_ui(
    ui: &mut Ui,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    match state.view {
        BraidView::Wrong | BraidView::Undoing | BraidView::Notes => {
            aside::panel_ui(ui, scene, state, easel, wants);
        }
        BraidView::Log => log::log_ui(ui, scene, state, wants),
        BraidView::Settings => settings::settings_ui(ui, scene, state, wants),
        BraidView::Next if state.is_compared(scene.work) => {
            check::check_ui(ui, scene, state, wants);
        }
        BraidView::Next => glance::glance_ui(ui, scene, state, wants),
    }
}

/// What the main button says and does.
fn main_words(scene: BraidScene<'_>) -> &'static str {
    match scene.place.doing {
        Doing::Laying(_) => "It lies there, go on",
        Doing::Off => "Cords under way",
        Doing::Moving(_) | Doing::Returning(_) => "Done, go on",
    }
}

/// A step on, or to the list once the cord is off the disc.
fn main_ask(scene: BraidScene<'_>, state: &mut BraidState, now: f64) -> Option<Command> {
    match scene.place.doing {
        Doing::Off => Some(Command::AtDisc(Hands::PutDown)),
        _ => keys::on(scene.work, state, now),
    }
}
