//! Findings on the shelf: caps, crimps, clasps, rings.

use eframe::egui::Ui;

use super::Shelf;
use super::table::{captions, cell, line, next};
use crate::app::controls::{Button, IconButton};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::stage::entry::{Grain, LengthEntry, NumberEntry, money, name, row};
use crate::plan::{Finding, FindingKind};

const KINDS: [FindingKind; 5] = [
    FindingKind::Cap,
    FindingKind::FlatCap,
    FindingKind::Crimp,
    FindingKind::Clasp,
    FindingKind::Other,
];
const KIND: f32 = 96.0;
const THERE: f32 = 76.0;
const PRICE: f32 = 92.0;
const END: f32 = 26.0;
/// Largest finding, mm, and most of one kind. Our guess, wide.
const MOST_MM: f64 = 1000.0;
const MOST: f64 = 100_000.0;

fn kind_word(kind: FindingKind) -> &'static str {
    match kind {
        FindingKind::Cap => "cap",
        FindingKind::FlatCap => "flat cap",
        FindingKind::Crimp => "crimp",
        FindingKind::Clasp => "clasp",
        FindingKind::Other => "other",
    }
}

/// The list of findings.
pub(super) fn findings_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, opened: &mut Option<usize>) {
    let wide = KIND + THERE + PRICE + 2.0 * END + 5.0 * 8.0;
    let wide = (ui.available_width() - wide).max(150.0);
    if shelf.workshop().findings.is_empty() {
        Role::Text.label(
            ui,
            "None written down. Caps, crimps, clasps and rings stand here with their size and \
             price, so that the list can say what must be ordered.",
        );
    } else {
        let columns = [
            ("", wide),
            ("what it is", KIND),
            ("there", THERE),
            ("price of one", PRICE),
        ];
        captions(ui, &columns);
    }
    for at in 0..shelf.workshop().findings.len() {
        ui.push_id(("finding", at), |ui| {
            finding_ui(ui, shelf, at, wide, opened);
        });
    }
    ui.add_space(4.0);
    if ui
        .add(Button::plain("One more finding").icon(Icon::Plus))
        .clicked()
    {
        let count = shelf.workshop().findings.len();
        *opened = Some(count);
        let finding = new_finding(count);
        shelf.ask("one more finding", |workshop| {
            workshop.findings.push(finding);
        });
    }
}

fn new_finding(count: usize) -> Finding {
    Finding {
        name: format!("finding {}", count + 1),
        kind: FindingKind::Cap,
        inner: Some(6.0),
        thickness: None,
        depth: Some(8.0),
        outer: None,
        adds: 0.0,
        metal: String::new(),
        there: 0,
        price: None,
    }
}

fn finding_ui(
    ui: &mut Ui,
    shelf: &mut Shelf<'_, '_>,
    at: usize,
    wide: f32,
    opened: &mut Option<usize>,
) {
    let finding = shelf.workshop().findings[at].clone();
    let called = &finding.name;
    line(ui, |ui| {
        if let Some(to) = name(ui, &format!("name of {called}"), called, "name", wide) {
            shelf.ask("name of a finding", |workshop| {
                workshop.findings[at].name = to;
            });
        }
        kind_cell(ui, shelf, at, &finding);
        let entry = NumberEntry {
            name: &format!("{called}: there"),
            unit: "",
            value: f64::from(finding.there),
            range: (0.0, MOST),
            step: 1.0,
            width: THERE,
        };
        if let Some(count) = entry.show(ui) {
            let done = format!("number of {called}");
            shelf.ask(&done, |workshop| workshop.findings[at].there = count as u32);
        }
        let label = format!("{called}: price of one");
        if let Some(price) = money(
            ui,
            &label,
            finding.price,
            &shelf.desk.workshop.prices,
            PRICE,
        ) {
            shelf.ask(&format!("price of {called}"), |w| {
                w.findings[at].price = price;
            });
        }
        ends_ui(ui, shelf, at, called, opened);
    });
    if *opened == Some(at) {
        measures_ui(ui, shelf, at, &finding);
    }
}

fn kind_cell(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, at: usize, finding: &Finding) {
    let word = kind_word(finding.kind);
    let tip = format!("{} is a {word}; press for the next word", finding.name);
    let button = cell(ui, KIND, 34.0, |ui| {
        ui.add(Button::plain(word).tip(&tip).width(KIND))
    });
    if button.clicked() {
        let to = next(&KINDS, finding.kind);
        let done = format!("{}: {}", finding.name, kind_word(to));
        shelf.ask(&done, |workshop| workshop.findings[at].kind = to);
    }
}

/// Open below, and off the list.
fn ends_ui(
    ui: &mut Ui,
    shelf: &mut Shelf<'_, '_>,
    at: usize,
    called: &str,
    opened: &mut Option<usize>,
) {
    let is_open = *opened == Some(at);
    let icon = if is_open { Icon::Up } else { Icon::Down };
    let words = format!("measures of {called}");
    let more = cell(ui, END, 34.0, |ui| {
        ui.add(IconButton::new(icon, &words).small())
    });
    if more.clicked() {
        *opened = (!is_open).then_some(at);
    }
    let words = format!("take {called} off the shelf");
    let away = cell(ui, END, 34.0, |ui| {
        ui.add(IconButton::new(Icon::Cross, &words).small())
    });
    if away.clicked() {
        *opened = None;
        shelf.ask(&words, |workshop| drop(workshop.findings.remove(at)));
    }
}

/// A measure of a finding, and where it is kept.
type Measure = (
    &'static str,
    &'static str,
    fn(&mut Finding) -> &mut Option<f64>,
);

/// Inside, depth, outside, what it adds, its metal.
fn measures_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, at: usize, finding: &Finding) {
    let across: &[Measure] = match finding.kind {
        FindingKind::FlatCap => &[
            ("inside, width", "", |f| &mut f.inner),
            ("inside, thickness", "", |f| &mut f.thickness),
            ("depth", "", |f| &mut f.depth),
        ],
        FindingKind::Cap => &[
            ("inside, across", "", |f| &mut f.inner),
            ("depth", "", |f| &mut f.depth),
        ],
        FindingKind::Crimp => &[
            ("width of its jaws", "", |f| &mut f.inner),
            ("depth", "", |f| &mut f.depth),
        ],
        FindingKind::Clasp | FindingKind::Other => &[
            (
                "inside, across",
                "where the cord is glued in; empty if it is not",
                |f| &mut f.inner,
            ),
            ("depth", "", |f| &mut f.depth),
        ],
    };
    ui.indent(("measures", at), |ui| {
        ui.set_max_width(380.0);
        for (label, note, place) in across {
            measure_ui(ui, shelf, at, finding, (label, note, *place));
        }
        let outer: Measure = ("outside, across", "what a bail must pass", |f| &mut f.outer);
        measure_ui(ui, shelf, at, finding, outer);
        adds_ui(ui, shelf, at, finding);
        row(ui, "Metal", "for the buyer's label", |ui| {
            if let Some(metal) = name(ui, "metal", &finding.metal, "none", 132.0) {
                let done = format!("metal of {}", finding.name);
                shelf.ask(&done, |workshop| workshop.findings[at].metal = metal);
            }
        });
    });
}

/// A measure that may be unknown; nought takes it away.
fn measure_ui(
    ui: &mut Ui,
    shelf: &mut Shelf<'_, '_>,
    at: usize,
    finding: &Finding,
    (label, note, place): Measure,
) {
    let now = *place(&mut finding.clone());
    let note = if now.is_none() && note.is_empty() {
        "not known"
    } else {
        note
    };
    row(ui, label, note, |ui| {
        let entry = LengthEntry {
            name: label,
            grain: Grain::Fine,
            mm: now.unwrap_or(0.0),
            range: (0.0, MOST_MM),
            units: shelf.units(),
            width: 112.0,
        };
        if let Some(mm) = entry.show(ui) {
            let done = format!("{label} of {}", finding.name);
            let to = (mm > 0.0).then_some(mm);
            shelf.ask(&done, |workshop| *place(&mut workshop.findings[at]) = to);
        }
    });
}

fn adds_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, at: usize, finding: &Finding) {
    row(ui, "Adds to the length", "closed", |ui| {
        let entry = LengthEntry {
            name: "adds to the length",
            grain: Grain::Fine,
            mm: finding.adds,
            range: (0.0, MOST_MM),
            units: shelf.units(),
            width: 112.0,
        };
        if let Some(mm) = entry.show(ui) {
            let done = format!("what {} adds", finding.name);
            shelf.ask(&done, |workshop| workshop.findings[at].adds = mm);
        }
    });
}
