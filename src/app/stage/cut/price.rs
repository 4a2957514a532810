//! What the piece costs, what to ask for it, and the way onto paper.

use eframe::egui::{Align, Align2, Layout, Role as Part, Sense, Ui, WidgetInfo, pos2, vec2};

use super::{CutPage, CutState, CutView, bars, named};
use crate::app::command::Command;
use crate::app::controls::{hairline, head, link};
use crate::app::fonts::{Face, Role};
use crate::app::stage::entry::NumberEntry;
use crate::app::theme::Theme;
use crate::app::words;
use crate::plan::{Price, PriceLine, Prices};
use crate::quantity::Money;

/// The sheet "Cost and price".
pub(super) fn price_ui(
    ui: &mut Ui,
    view: CutView<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    ui.spacing_mut().item_spacing.y = 5.0;
    let (price, prices) = (&view.plan.price, &view.workshop.prices);
    head(ui, "Cost and price", |ui| {
        if link(ui, "my prices").clicked() {
            state.show(CutPage::Shelf);
        }
    });
    if view.workshop.example {
        Role::Note.label(ui, "Prices and stock are invented, to show how it works.");
    }
    for line in &price.lines {
        line_ui(ui, line, prices);
    }
    hairline(ui);
    let costs = amount(price.costs, prices);
    let without = match price.unpriced {
        0 => String::new(),
        1 => "one line has no price".to_owned(),
        n => format!("{} lines have no price", words::count(n)),
    };
    sum_ui(ui, "It costs you", &without, &costs, Role::Name);
    share_ui(
        ui,
        view,
        "margin",
        prices.margin,
        price.margin,
        |prices, share| prices.margin = share,
        wants,
    );
    share_ui(
        ui,
        view,
        "tax",
        prices.tax,
        price.tax,
        |prices, share| prices.tax = share,
        wants,
    );
    hairline(ui);
    asked_ui(ui, price, prices);
}

/// An amount with the maker's word for the currency.
pub(in crate::app::stage) fn amount(money: Money, prices: &Prices) -> String {
    let shown = money.shown(prices.places);
    match prices.currency.as_str() {
        "" => shown,
        currency => format!("{shown} {currency}"),
    }
}

fn line_ui(ui: &mut Ui, line: &PriceLine, prices: &Prices) {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 26.0), Sense::hover());
    let cost = line
        .cost
        .map_or_else(|| "no price".to_owned(), |cost| cost.shown(prices.places));
    let name = capital(
        &line
            .ware
            .as_ref()
            .map_or_else(|| line.name.clone(), named::ware),
    );
    response.widget_info(|| {
        let words = format!("{name}, {}, {cost}", line.detail);
        WidgetInfo::labeled(Part::ListItem, true, words)
    });
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let (y, middle) = (rect.center().y, rect.left() + 0.49 * rect.width());
    let font = if line.cost.is_some() {
        Role::Value.font()
    } else {
        Role::Note.font()
    };
    let cost = painter.text(
        rect.right_center(),
        Align2::RIGHT_CENTER,
        cost,
        font,
        theme.ink,
    );
    let put = |x: f32, until: f32, words: String, font, colour| {
        let words = bars::one_line(painter, words, font, colour, (until - x).max(20.0));
        let tall = words.size().y;
        painter.galley(pos2(x, y - tall / 2.0), words, colour);
    };
    put(
        rect.left(),
        middle - 8.0,
        name,
        Role::Text.font(),
        theme.ink,
    );
    put(
        middle,
        cost.left() - 8.0,
        line.detail.clone(),
        Role::Smallest.font(),
        theme.ink2,
    );
}

fn sum_ui(ui: &mut Ui, name: &str, note: &str, sum: &str, role: Role) {
    ui.horizontal(|ui| {
        role.label(ui, name);
        if !note.is_empty() {
            Role::Smallest.label(ui, note);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let text = Role::Value.text(ui, sum).font(Face::Figures.at(20.0));
            ui.label(text);
        });
    });
}

/// Margin or tax: the maker's own share, and what it comes to.
fn share_ui(
    ui: &mut Ui,
    view: CutView<'_>,
    name: &str,
    share: f64,
    sum: Money,
    set: impl FnOnce(&mut Prices, f64),
    wants: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        ui.set_min_height(34.0);
        ui.allocate_ui_with_layout(
            vec2(64.0, 34.0),
            Layout::left_to_right(Align::Center),
            |ui| {
                ui.set_min_width(64.0);
                Role::Text.label(ui, capital(name));
            },
        );
        let entry = NumberEntry {
            name,
            unit: "%",
            value: share,
            range: (0.0, 1000.0),
            step: 1.0,
            width: 92.0,
        };
        if let Some(share) = entry.show(ui) {
            let mut workshop = view.workshop.clone();
            set(&mut workshop.prices, share);
            wants.push(Command::Workshop(Box::new(workshop), name.to_owned()));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            Role::Value.label(ui, sum.shown(view.workshop.prices.places));
        });
    });
}

fn asked_ui(ui: &mut Ui, price: &Price, prices: &Prices) {
    let asked = amount(price.ask, prices);
    ui.horizontal(|ui| {
        Role::Name.label(ui, "Ask for it");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let text = Role::Value.text(ui, asked).font(Face::Figures.at(25.0));
            ui.label(text);
        });
    });
    if price.pieces > 1 {
        let each = amount(price.ask_each, prices);
        let told = format!(
            "for {} pieces together; {each} each",
            words::count(price.pieces as usize)
        );
        Role::Note.label(ui, told);
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
