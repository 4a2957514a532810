//! What can hurt at the cutting table, and the words for the buyer.

use eframe::egui::{Label as Words, Ui};

use super::CutView;
use crate::app::controls::{Button, head};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::stage::cautions;
use crate::plan::{LOCAL_RULES_FIRST, Label, Where};

/// The sheet "With care": what goes with the material and the work.
pub(super) fn care_ui(ui: &mut Ui, view: CutView<'_>) {
    ui.spacing_mut().item_spacing.y = 2.0;
    head(ui, "With care", |_| ());
    for place in [Where::Material, Where::Work] {
        cautions::cautions_ui(ui, &view.plan.cautions, place);
    }
    ui.add_space(6.0);
    let note = Role::Note.text(ui, LOCAL_RULES_FIRST);
    ui.add(Words::new(note).wrap());
}

/// The sheet "For the buyer".
pub(super) fn label_ui(ui: &mut Ui, view: CutView<'_>) {
    ui.spacing_mut().item_spacing.y = 4.0;
    let label = &view.plan.label;
    head(ui, "For the buyer", |_| ());
    let groups = [
        ("made of", &label.fibres),
        ("metal", &label.metals),
        ("good to know", &label.remarks),
        ("how to keep it", &label.care),
    ];
    for (name, lines) in groups {
        if lines.is_empty() {
            continue;
        }
        Role::Label.label(ui, name);
        for line in lines {
            let text = Role::Text.text(ui, line);
            ui.add(Words::new(text).wrap());
        }
    }
    ui.add_space(6.0);
    let button = Button::plain("Copy the label").icon(Icon::Page);
    if ui.add(button).clicked() {
        ui.ctx().copy_text(written(&view.design.name, label));
    }
}

/// The label as plain text.
fn written(name: &str, label: &Label) -> String {
    let parts = [&label.fibres, &label.metals, &label.remarks, &label.care];
    let lines = parts.into_iter().filter(|lines| !lines.is_empty());
    let lines = lines.map(|lines| lines.join(", "));
    std::iter::once(name.to_owned())
        .chain(lines)
        .collect::<Vec<_>>()
        .join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_label_is_plain_lines_and_leaves_out_what_there_is_not() {
        let label = Label {
            fibres: vec!["62 % polyester".into(), "38 % cotton".into()],
            metals: Vec::new(),
            remarks: vec!["no latex".into()],
            care: vec!["wipe it".into()],
        };
        let text = written("Harbour glass", &label);
        assert_eq!(
            text,
            "Harbour glass\n62 % polyester, 38 % cotton\nno latex\nwipe it"
        );
    }
}
