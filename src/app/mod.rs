//! The window; the only folder that draws with egui.
//!
//! Drawing reads and asks, one place changes: a stage is handed the [`Desk`]
//! and its own slice of the [`View`], and pushes [`Command`]s; `act` performs
//! them after the frame is drawn. Cords are solved on one thread and painted on
//! another, so that a frame only ever hangs up what is finished.
//!
//! This folder works out nothing that a test without a window would want to
//! check.

mod act;
mod ask;
pub mod at_disc;
pub mod awake;
mod button_slip;
pub mod clock;
pub mod command;
pub mod controls;
pub mod desk;
pub mod disc;
mod dock;
mod easel;
pub mod errand;
pub mod examiner;
mod file_slip;
mod files;
mod filling;
pub mod flags;
pub mod fonts;
mod fresh;
pub mod grounds;
pub mod icons;
mod launch;
pub mod marks;
mod messages;
pub mod on_paper;
mod order;
mod own_shelf;
mod own_workshop;
mod painting;
mod palettes;
pub mod photo;
pub mod planned;
mod player;
mod post;
mod rail;
mod region;
pub mod screen;
pub mod settings;
pub mod solver;
pub mod stage;
pub mod stitch;
mod strip;
mod take_slip;
mod taking;
pub mod theme;
pub mod tick;
mod top_line;
pub mod view;
pub mod voice;
mod window;
mod words;
mod workbench;

use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui::{self, Context, Popup, Ui, ViewportCommand};

use crate::cord::{Recipe, RecipeError};
use crate::document::{Design, Edit, History, Kept, Lost, examples, recent_files};
use crate::drawing::Thread;
use crate::material::colour::{Palette, Sight};
use crate::structure::{MoveList, Structure};

use ask::Dialog;
use at_disc::{AtDisc, Heard};
use command::Command;
use controls::Tone;
use desk::Desk;
use easel::Easel;
use errand::Errand;
use examiner::Examiner;
use files::OpenFile;
use settings::{Dress, Settings};
use solver::{Kind, Solver};
use stage::Stage;
use stage::look::Escape;
use taking::Brought;
use view::{Message, Offers, View};
use workbench::Workbench;

pub use launch::{RunError, run};

/// The program in its window.
#[derive(Debug)]
pub struct App {
    history: History,
    workbench: Workbench,
    file: OpenFile,
    at_disc: AtDisc,
    heard: Heard,
    view: View,
    solver: Solver,
    examiner: Examiner,
    settings: Settings,
    /// Settings as they lie on disk.
    written: Settings,
    home: PathBuf,
    recent: Vec<PathBuf>,
    lost: Vec<Lost>,
    /// The maker's own shelf of structures, as it lies on disk.
    own: Vec<Structure>,
    dialog: Option<Dialog>,
    /// What the dialog asks a place for.
    palette_to_save: Option<Box<Palette>>,
    /// The palettes on the shelf, as they lie on disk, by name.
    palettes: Vec<Palette>,
    /// What is being made to be taken along.
    taking: Option<Errand<Brought>>,
    easel: Easel,
    threads: Arc<[Thread]>,
    /// The design that the solver was asked about last.
    asked: Option<Design>,
    title: String,
}

impl App {
    /// The program as it starts: with `file`, or the last file, or a finished
    /// example. `home` is where it keeps what it remembers.
    pub fn new(ctx: &Context, home: PathBuf, settings: Settings, file: Option<PathBuf>) -> Self {
        theme::dress(ctx);
        ctx.set_zoom_factor(settings.zoom);
        let (wake, also) = (ctx.clone(), ctx.clone());
        let (open, design) = OpenFile::of(first_example(), None, None);
        let recent = recent_files(&act::recent_list(&home));
        let mut app = Self {
            history: History::of_saved(design),
            workbench: Workbench::default(),
            file: open,
            at_disc: AtDisc::default(),
            heard: Heard::new(&home),
            view: View::default(),
            solver: Solver::new(move || wake.request_repaint()),
            examiner: Examiner::new(move || also.request_repaint()),
            written: settings.clone(),
            settings,
            lost: Vec::new(),
            own: Vec::new(),
            recent,
            home,
            dialog: None,
            palette_to_save: None,
            palettes: Vec::new(),
            taking: None,
            easel: Easel::new(ctx),
            threads: Arc::new([]),
            asked: None,
            title: String::new(),
        };
        app.begin(file);
        app
    }

    /// What is on the table first, and what a crash left beside it.
    fn begin(&mut self, file: Option<PathBuf>) {
        let last = || self.recent.first().filter(|path| path.is_file()).cloned();
        if let Some(path) = file.or_else(last) {
            self.open(path);
        }
        self.turn_to();
        self.read_own();
        self.read_palettes();
        self.read_workshop();
    }

    /// What is decided.
    pub fn design(&self) -> &Design {
        self.history.now()
    }

    /// The solver with the cord that follows.
    pub fn solver(&self) -> &Solver {
        &self.solver
    }

    /// The examiner with what is the matter with the moves.
    pub fn examiner(&self) -> &Examiner {
        &self.examiner
    }

    /// The cords under way.
    pub fn at_disc(&self) -> &AtDisc {
        &self.at_disc
    }

    /// Asks whether the moves hold: those being recorded, or the design's.
    fn examine(&mut self) {
        let recorded = self.view.look.recording.as_ref().map(|it| it.moves());
        let section = self.history.now().sections.first();
        if let Some(moves) = recorded.or(section.map(|it| &it.moves)) {
            self.examiner.ask(moves);
        }
    }

    /// Asks for the cord of the design as it is now.
    fn solve(&mut self) {
        if self.asked.as_ref() != Some(self.history.now()) {
            self.asked = Some(self.history.now().clone());
            if let Some(make) = stage::look::make_of(self.history.now()) {
                self.solver.want_make(make);
            }
            self.solver.ask(recipe(self.history.now()));
        }
        let mut threads = painting::threads(self.history.now());
        painting::see(&mut threads, self.sight());
        let shown = self.solver.solved().cord().map(|cord| cord.form.strands);
        // An old cord of another number of strands keeps its own colours.
        let fits = shown.is_none_or(|strands| strands == threads.len());
        if fits && *self.threads != threads[..] {
            self.threads = threads.into();
        }
    }

    /// With whose eyes the cord is shown.
    fn sight(&self) -> Sight {
        match self.view.stage {
            Stage::Look => self.view.look.sight(),
            _ => Sight::Full,
        }
    }

    /// Autosave, settings, title: what is due without anyone asking.
    fn keep_house(&mut self, ctx: &Context) {
        let is_saved = self.history.is_saved();
        match self.file.autosave(&self.home, self.history.now(), is_saved) {
            Ok(Some(left)) => ctx.request_repaint_after(left),
            Ok(None) => {}
            Err(error) => self.view.tell(Message {
                tone: Tone::Caution,
                happened: format!("The copy for emergencies could not be written: {error}."),
                kept: "The design itself is on the table.".to_owned(),
                advice: "Save it with Ctrl S.".to_owned(),
                offers: Offers::Nothing,
            }),
        }
        self.settings.zoom = ctx.zoom_factor().clamp(settings::ZOOM.0, settings::ZOOM.1);
        if self.settings.zoom != ctx.zoom_factor() {
            ctx.set_zoom_factor(self.settings.zoom);
        }
        self.keep_workshop();
        if self.settings != self.written {
            self.written = self.settings.clone();
            if let Err(error) = self.settings.write(&self.home) {
                log::warn!("settings were not written: {error}");
            }
        }
        self.set_title(ctx, is_saved);
    }

    fn set_title(&mut self, ctx: &Context, is_saved: bool) {
        let mark = if is_saved { "" } else { "• " };
        let title = format!("{mark}{} – Plaitwright", self.history.now().name);
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    fn put_on_dress(&self, ctx: &Context) {
        ctx.set_theme(match self.settings.dress {
            Dress::Light => egui::Theme::Light,
            Dress::Dark => egui::Theme::Dark,
        });
    }

    /// One gesture of the pointer is one entry of the history.
    fn follow_pointer(&mut self, ui: &Ui) {
        let (pressed, released) =
            ui.input(|input| (input.pointer.any_pressed(), input.pointer.any_released()));
        if pressed {
            self.history.hold();
        }
        if released {
            self.history.release();
        }
    }

    /// Esc takes back what is tried and lets go of the choice, after whatever lies over
    /// it is shut.
    fn let_go(&mut self, ui: &Ui) {
        let is_free = ui.memory(|memory| memory.focused().is_none());
        let pressed = ui.input(|input| input.key_pressed(egui::Key::Escape));
        let covered = self.view.files.open || Popup::is_any_open(ui.ctx());
        if !pressed || !is_free || covered || self.view.strip.fold() {
            return;
        }
        if self.view.stage == Stage::Fit {
            let (design, undo) = (self.history.now(), self.history.undo_label());
            if self.view.other_way.takes_back(design, undo) {
                self.undo_design();
                return;
            }
        }
        if self.view.stage != Stage::Look {
            if self.view.slip.is_none() {
                self.view.look.chosen.clear();
            }
            return;
        }
        let (design, undo) = (self.history.now(), self.history.undo_label());
        let is_tried = self.view.look.trying.is_on(design, undo);
        // The slip of a try goes with it.
        if self.view.slip.is_some() && !is_tried {
            return;
        }
        match self.view.look.escape(design, undo) {
            Escape::TakeBack => self.undo_design(),
            Escape::Done => {}
        }
    }

    /// One frame.
    pub fn frame_ui(&mut self, ui: &mut Ui) {
        self.follow_pointer(ui);
        let mut wants = command::pressed(ui);
        wants.extend(dropped(ui));
        region::jump(ui);
        self.step_by_keys(ui);
        // Before the slip is drawn, or one Esc would do both.
        self.let_go(ui);
        let plan = self.planned();
        let desk = Desk {
            design: self.history.now(),
            solver: &self.solver,
            examiner: &self.examiner,
            recent: &self.recent,
            file: &self.file,
            own: &self.own,
            palettes: &self.palettes,
            settings: &self.settings,
            workshop: self.workbench.now(),
            plan: plan.as_ref(),
            at_disc: &self.at_disc,
            heard: &self.heard,
            undo: self.workbench.undo_label(&self.history),
            redo: self.workbench.redo_label(&self.history),
            is_unsaved: !self.history.is_saved(),
        };
        let (threads, view, easel) = (&self.threads, &mut self.view, &mut self.easel);
        window::window_ui(ui, &desk, threads, view, easel, &mut wants);
        for want in wants {
            if matches!(want, Command::AtDisc(_)) {
                // What was pressed shows in this frame and not in the next.
                ui.ctx().request_discard("a step at the disc");
            }
            self.perform(want, ui.ctx());
        }
        self.hear(ui.ctx());
        self.view.look.rest();
        let plain = fresh::plain();
        for (key, moves) in self.view.look.samples.drain(..) {
            self.solver
                .ask_sample(&key, Kind::Plain, || sample_recipe(&moves, &plain));
            self.examiner.ask_of_shelf(&key, &moves);
        }
        let design = self.history.now();
        let make = stage::look::make_of(design).map(Kind::Make);
        for (key, moves) in self.view.look.own_samples.drain(..) {
            let Some(make) = make else { continue };
            self.solver
                .ask_sample(&key, make, || sample_recipe(&moves, &of_one_make(design)));
        }
        self.examine();
        self.solve();
    }

    /// What is heard of the cord on the stage, and the screen that is kept awake for it.
    fn hear(&mut self, ctx: &Context) {
        let work = self.at_disc.work();
        let work = work.filter(|_| self.view.stage == Stage::Braid);
        self.heard.listen(work, &self.settings.at_disc, ctx);
    }

    /// Takes home what was finished since the last frame.
    pub fn catch_up(&mut self, ctx: &Context) {
        if self.solver.collect() | self.examiner.collect() {
            ctx.request_repaint();
        }
        let waits = [self.solver.patience_left(), self.examiner.patience_left()];
        for left in waits.into_iter().flatten() {
            ctx.request_repaint_after(left);
        }
        self.easel.collect(ctx);
        self.answer(ctx);
        self.bring_home(ctx);
        self.put_on_dress(ctx);
        self.examine();
        self.solve();
        self.keep_house(ctx);
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &Context, _frame: &mut eframe::Frame) {
        self.catch_up(ctx);
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.frame_ui(ui);
        let window = ui.max_rect().size() * ui.ctx().zoom_factor();
        self.settings.window = (window.x, window.y);
    }

    /// Closing never asks: what is not saved is kept and offered next time.
    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        if !self.history.is_saved() {
            let design = self.history.now().clone();
            if let Err(error) = self.file.copy_now(&self.home, &design) {
                log::error!("the copy could not be written: {error}");
            }
        }
        if let Err(error) = self.settings.write(&self.home) {
            log::warn!("settings were not written: {error}");
        }
    }

    fn clear_color(&self, _visuals: &egui::Visuals) -> [f32; 4] {
        match self.settings.dress {
            Dress::Light => theme::Theme::light().table,
            Dress::Dark => theme::Theme::dark().table,
        }
        .to_normalized_gamma_f32()
    }
}

fn first_example() -> Kept {
    let design = examples().first().cloned();
    Kept::new(design.unwrap_or_else(fresh::plain), fastrand::u64(..))
}

/// The question that a design puts to the solver.
fn recipe(design: &Design) -> Result<Recipe, String> {
    if design.sections.is_empty() {
        return Err("the design has no moves".to_owned());
    }
    design.recipe().map_err(|error| match error {
        RecipeError::Moves(fault) => fault.sentence(design.braiding.numbering),
        other => other.to_string(),
    })
}

/// The question that a sample on the shelf of structures puts, made and braided
/// as `design` is.
fn sample_recipe(moves: &MoveList, design: &Design) -> Option<Recipe> {
    let edit = Edit::Moves {
        structure: String::new(),
        moves: moves.clone(),
    };
    recipe(&edit.apply(design).ok()?).ok()
}

/// The design with every strand made as the first is.
fn of_one_make(design: &Design) -> Design {
    let mut design = design.clone();
    if let [first, rest @ ..] = &mut design.strands[..] {
        rest.fill(first.clone());
    }
    design
}

/// Files dropped on the window are opened, the last one wins.
fn dropped(ui: &Ui) -> Option<Command> {
    ui.input(|input| {
        let file = input.raw.dropped_files.last()?;
        Some(Command::OpenFile(file.path().to_path_buf()))
    })
}
