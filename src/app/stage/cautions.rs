//! Cautions where they arise, each with the standard's name.

use eframe::egui::Ui;

use crate::app::controls::{Notice, Tone};
use crate::plan::{Caution, Where};

/// Those of the plan that belong in this place, one under the other.
pub(in crate::app) fn cautions_ui(ui: &mut Ui, cautions: &[Caution], place: Where) {
    for caution in cautions.iter().filter(|caution| caution.place == place) {
        ui.add_space(8.0);
        let advice = match caution.rule {
            "" => caution.advice.clone(),
            rule => format!("{} ({rule})", caution.advice),
        };
        Notice {
            tone: Tone::Caution,
            happened: &caution.what,
            kept: "",
            advice: &advice,
        }
        .show(ui);
    }
}
