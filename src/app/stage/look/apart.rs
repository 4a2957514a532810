//! "Will they stand apart?": the colours that lie side by side on the cord, in
//! stripes as wide as its thread, as four kinds of eyes see them.

mod pair;

use std::sync::Arc;

use eframe::egui::{Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Notice, Sheet, Tone, head, link, segments};
use crate::app::desk::Desk;
use crate::app::errand::Errand;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::screen::LifeSize;
use crate::app::theme::Theme;
use crate::cord::Cord;
use crate::material::Colour;
use crate::material::colour::{
    Apart, Beside, Mend, Parting, Sight, Viewing, colours_beside, mends, stand_apart,
};
use crate::surface::Surface;

use super::LookView;
use super::colours::offered;

/// Pairs shown before the maker asks for all.
const FEW: usize = 3;

/// Strands side by side, with the length in mm.
type Seams = Vec<([usize; 2], f64)>;

/// What the maker looks at in it.
#[derive(Debug, Default)]
pub struct ApartView {
    /// With whose eyes the cord is seen.
    sight: Option<Sight>,
    /// Whether every pair is listed.
    all: bool,
    /// The pair whose mends are shown.
    asked: Option<[Colour; 2]>,
    seams: Option<Seams>,
    /// The cord that the seams are of, or will be.
    of: Option<Arc<Cord>>,
    errand: Option<Errand<Seams>>,
    found: Found,
}

/// What was worked out last, and from what.
#[derive(Debug, Default)]
struct Found {
    besides: Vec<Beside>,
    apart: Vec<Apart>,
    mends: Vec<Mend>,
    asked: Option<([Colour; 2], Vec<Colour>)>,
}

impl ApartView {
    /// With whose eyes disc and strip are seen.
    pub fn sight(&self) -> Sight {
        self.sight.unwrap_or(Sight::Full)
    }

    /// Sends for the seams of another cord and takes home what came.
    fn follow(&mut self, cord: Option<&Arc<Cord>>, ui: &Ui) {
        let is_known = match (cord, &self.of) {
            (Some(cord), Some(of)) => Arc::ptr_eq(cord, of),
            (None, _) => true,
            (Some(_), None) => false,
        };
        if let Some(cord) = cord.filter(|_| !is_known) {
            self.of = Some(Arc::clone(cord));
            let cord = Arc::clone(cord);
            self.errand = Some(Errand::send("surface", ui.ctx(), move |teller| {
                teller.tell(seams_of(&cord));
            }));
        }
        let heard = self.errand.as_ref().map(Errand::heard);
        if let Some(seams) = heard.and_then(|mut all| all.pop()) {
            self.seams = Some(seams);
            self.errand = None;
        }
    }
}

impl Found {
    /// Works out how these stand apart, unless that is known.
    fn follow(&mut self, besides: Vec<Beside>) {
        if besides != self.besides {
            self.apart = stand_apart(&besides, Viewing::ARM);
            self.besides = besides;
            self.asked = None;
        }
    }

    /// Works out the mends of a pair, unless they are known.
    fn ask(&mut self, pair: [Colour; 2], palette: Vec<Colour>) {
        let asked = Some((pair, palette));
        if asked != self.asked {
            let palette = asked.as_ref().map_or(&[][..], |(_, palette)| palette);
            self.mends = mends(&self.besides, pair, Viewing::ARM, palette);
            self.asked = asked;
        }
    }
}

fn seams_of(cord: &Cord) -> Seams {
    let seams = Surface::new(&cord.form).map_or(Vec::new(), |surface| surface.seams());
    seams
        .into_iter()
        .map(|seam| (seam.strands, seam.length_mm))
        .collect()
}

/// The sheet.
pub(super) fn sheet_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let apart = &mut view.apart;
    // Another number of strands is another cord, and none of this design.
    let cord = desk.solver.solved().cord();
    let fits = cord.filter(|cord| cord.form.strands == desk.design.drawn().len());
    apart.follow(fits, ui);
    let besides = match (&apart.seams, fits) {
        (Some(seams), Some(_)) => colours_beside(&desk.design.drawn(), &desk.design.fibres, seams),
        _ => Vec::new(),
    };
    apart.found.follow(besides);
    let width = ui.available_width();
    Sheet::new().size([width, 0.0]).show(ui, |ui| {
        head(ui, "Will they stand apart?", |_| ());
        if fits.is_none() || apart.seams.is_none() {
            Role::Note.label(ui, "As soon as the cord is solved.");
            return;
        }
        if apart.found.apart.is_empty() {
            Role::Note.label(ui, "There is one colour on the cord.");
            return;
        }
        summary_ui(ui, &apart.found.apart);
        sight_ui(ui, apart);
        pairs_ui(ui, desk, apart, wants);
    });
}

/// One line: how all of them stand.
fn summary_ui(ui: &mut Ui, apart: &[Apart]) {
    let worst = apart.iter().map(Apart::worst).min();
    let worst = worst.unwrap_or(Parting::StandApart);
    let count = apart.iter().filter(|pair| pair.worst() == worst).count();
    let words = match (worst, apart.len(), count) {
        (Parting::StandApart, 1, _) => "The two colours stand apart.".to_owned(),
        (Parting::StandApart, n, _) => format!("All {n} pairs of neighbours stand apart."),
        (Parting::Close, n, 1) => format!("1 of {n} pairs of neighbours is close."),
        (Parting::Close, n, some) => format!("{some} of {n} pairs of neighbours are close."),
        (Parting::RunTogether, n, 1) => format!("1 of {n} pairs of neighbours runs together."),
        (Parting::RunTogether, n, some) => {
            format!("{some} of {n} pairs of neighbours run together.")
        }
    };
    parting_ui(ui, worst, &words);
}

/// Mark and words of a verdict.
fn parting_ui(ui: &mut Ui, parting: Parting, words: &str) {
    let theme = Theme::of(ui);
    let (icon, colour) = tone(parting, &theme);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 7.0;
        let (rect, _) = ui.allocate_exact_size(vec2(16.0, 18.0), eframe::egui::Sense::hover());
        icon.paint(ui.painter(), rect.center(), 16.0, colour);
        let text = Role::Text.text(ui, words);
        ui.add(eframe::egui::Label::new(text).wrap());
    });
}

fn tone(parting: Parting, theme: &Theme) -> (Icon, eframe::egui::Color32) {
    match parting {
        Parting::StandApart => (Icon::Check, theme.ok),
        Parting::Close => (Icon::Warn, theme.caution),
        Parting::RunTogether => (Icon::Broken, theme.stop),
    }
}

/// With whose eyes.
fn sight_ui(ui: &mut Ui, apart: &mut ApartView) {
    let mut sight = apart.sight();
    let words = Sight::ALL.map(|sight| (sight, eyes(sight)));
    ui.horizontal_wrapped(|ui| {
        if segments(ui, "seen by", &mut sight, &words) {
            apart.sight = Some(sight);
        }
    });
    if sight != Sight::Full {
        let happened = format!("Disc and strip are shown as {} eyes see them.", eyes(sight));
        let notice = Notice {
            tone: Tone::Caution,
            happened: &happened,
            kept: "The colours of the design are as they were.",
            advice: "",
        };
        notice.show(ui);
    }
}

/// A sight in two words.
fn eyes(sight: Sight) -> &'static str {
    match sight {
        Sight::Full => "full colour",
        Sight::Protan => "red-blind",
        Sight::Deutan => "green-blind",
        Sight::Tritan => "blue-blind",
    }
}

fn pairs_ui(ui: &mut Ui, desk: &Desk<'_>, apart: &mut ApartView, wants: &mut Vec<Command>) {
    let life = LifeSize::under(ui.ctx(), &desk.settings.screens);
    let shown = if apart.all { usize::MAX } else { FEW };
    let pairs: Vec<Apart> = apart.found.apart.iter().take(shown).copied().collect();
    for one in pairs {
        let asked = apart.asked == Some(one.colours);
        if pair::pair_ui(ui, &one, apart.sight(), life.per_mm, asked) {
            apart.asked = (!asked).then_some(one.colours);
        }
        if asked {
            let offered = offered(desk);
            apart.found.ask(
                one.colours,
                offered.iter().map(|(colour, _)| *colour).collect(),
            );
            pair::mends_ui(ui, &one, &apart.found.mends, &offered, wants);
        }
    }
    let more = apart.found.apart.len().saturating_sub(FEW);
    if more > 0 {
        let words = if apart.all {
            "fewer".to_owned()
        } else {
            format!("{more} more")
        };
        if link(ui, &words).clicked() {
            apart.all = !apart.all;
        }
    }
    let size = if life.is_measured {
        "in life size"
    } else {
        "in about life size"
    };
    let note = format!("Stripes as wide as the thread, {size}; judged from arm's length, 60 cm.");
    let text = Role::Note.text(ui, note);
    ui.add(eframe::egui::Label::new(text).wrap());
}
