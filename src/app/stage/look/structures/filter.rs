//! Which structures are listed, and in which hand.

use std::collections::BTreeSet;

use eframe::egui::{Id, TextEdit, Ui, WidgetInfo, vec2};

use crate::app::controls::{IconButton, chip, link, segments, tip};
use crate::app::examiner::Facts;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::cord::{Figures, Firmness, Section};
use crate::document::Design;
use crate::structure::{MoveList, Structure, shelf};

/// Steps of what is to be remembered that can be chosen; our guess at what
/// makers would tell apart.
const REMEMBER: [usize; 3] = [3, 5, 8];

/// What is meant by firm.
const FIRMNESS: &str = "How much longer the plain cord is with 1 kg hung on it than at rest: firm \
    below 12 %, springy from 18 %, middling between. The strands are taken as not stretching.";

/// Which structures are listed, and in which hand.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Filter {
    /// Words searched for.
    pub(super) search: String,
    /// This many strands; none is any.
    strands: Option<usize>,
    /// This kind of section, as solved; none is any.
    section: Option<Section>,
    /// This firm, as solved; none is any.
    firmness: Option<Firmness>,
    /// No more than this many things to remember; none is any.
    remember: Option<usize>,
    /// As written or mirrored.
    hand: Written,
    /// Whether all filters are shown.
    is_open: bool,
}

/// A list as it is written, or its mirror image.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Written {
    #[default]
    Plain,
    Mirrored,
}

impl Filter {
    /// Lists what has as many strands as a design, if the shelf has any.
    pub fn list_like(&mut self, design: &Design) {
        let strands = design.strands.len();
        let has_any = shelf().iter().any(|s| s.strands() == strands);
        *self = Self {
            strands: has_any.then_some(strands),
            ..Self::default()
        };
    }

    /// Whether it is listed, as far as its list alone tells. What is searched
    /// for is looked for among all numbers of strands.
    pub(super) fn asks_for(&self, structure: &Structure) -> bool {
        if !self.search.trim().is_empty() {
            return structure.matches(&self.search);
        }
        self.strands.is_none_or(|n| n == structure.strands())
    }

    /// Whether it is listed, as far as its moves and its solved cord tell; what
    /// is not known yet is.
    pub(super) fn keeps(
        &self,
        facts: Option<&Facts>,
        figures: Option<&Figures>,
        firmness: Option<Firmness>,
    ) -> bool {
        let fits = |wanted: Section| figures.is_none_or(|it| it.section == wanted);
        let is_as_firm = |wanted: Firmness| firmness.is_none_or(|it| it == wanted);
        let is_easy = |most: usize| facts.is_none_or(|it| it.to_remember <= most);
        self.section.is_none_or(fits)
            && self.firmness.is_none_or(is_as_firm)
            && self.remember.is_none_or(is_easy)
    }

    pub(super) fn moves(&self, structure: &Structure) -> MoveList {
        match self.hand {
            Written::Plain => structure.moves.clone(),
            Written::Mirrored => structure.moves.mirrored(),
        }
    }

    pub(super) fn name(&self, structure: &Structure) -> String {
        match self.hand {
            Written::Plain => structure.name.clone(),
            Written::Mirrored => format!("{}, mirrored", structure.name),
        }
    }

    /// What the link to the other filters says.
    fn more_words(&self) -> String {
        let chosen = [
            self.section.is_some(),
            self.firmness.is_some(),
            self.remember.is_some(),
        ];
        match (self.is_open, chosen.into_iter().filter(|&it| it).count()) {
            (true, _) => "fewer".to_owned(),
            (false, 0) => "more".to_owned(),
            (false, n) => format!("more, {n} on"),
        }
    }

    /// Lists everything again.
    pub(super) fn clear(&mut self) {
        *self = Self {
            hand: self.hand,
            is_open: self.is_open,
            ..Self::default()
        };
    }
}

/// The field to search by name, plain or of the trade; what the keyboard calls it.
pub(super) fn search_ui(ui: &mut Ui, filter: &mut Filter) -> Id {
    let edit = TextEdit::singleline(&mut filter.search)
        .hint_text("search: spiral, kongo, flat 7 …")
        .desired_width(ui.available_width());
    let response = ui.add(edit);
    response.widget_info(|| {
        WidgetInfo::labeled(eframe::egui::Role::TextInput, true, "Search the structures")
    });
    response.id
}

/// Numbers of strands, and behind a link all else one can choose by.
pub(super) fn chips_ui(ui: &mut Ui, own: &[Structure], filter: &mut Filter) {
    let all = shelf().iter().chain(own);
    let counts: BTreeSet<usize> = all.map(Structure::strands).collect();
    let mut turns = false;
    chip_row(ui, |ui| {
        for n in counts {
            let on = filter.strands == Some(n);
            if chip(ui, &n.to_string(), on).clicked() {
                filter.strands = (!on).then_some(n);
                filter.search.clear();
            }
        }
        Role::Note.label(ui, "strands");
        turns = link(ui, &filter.more_words()).clicked();
    });
    if filter.is_open {
        more_ui(ui, filter);
    }
    filter.is_open ^= turns;
}

fn more_ui(ui: &mut Ui, filter: &mut Filter) {
    chip_row(ui, |ui| {
        for section in Section::ALL {
            let on = filter.section == Some(section);
            if chip(ui, section.word(), on).clicked() {
                filter.section = (!on).then_some(section);
            }
        }
    });
    chip_row(ui, |ui| {
        for firmness in Firmness::ALL {
            let on = filter.firmness == Some(firmness);
            let response = chip(ui, firmness.word(), on);
            if tip(response, FIRMNESS).clicked() {
                filter.firmness = (!on).then_some(firmness);
            }
        }
    });
    chip_row(ui, |ui| {
        Role::Note.label(ui, "at most");
        for most in REMEMBER {
            let on = filter.remember == Some(most);
            if chip(ui, &most.to_string(), on).clicked() {
                filter.remember = (!on).then_some(most);
            }
        }
        Role::Note.label(ui, "to remember");
    });
}

fn chip_row(ui: &mut Ui, chips: impl FnOnce(&mut Ui)) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        chips(ui);
    });
}

/// In which hand the list is shown; whether the design's own cord is to be
/// mirrored.
pub(super) fn hands_ui(ui: &mut Ui, filter: &mut Filter) -> bool {
    let hands = [
        (Written::Plain, "one hand"),
        (Written::Mirrored, "the other"),
    ];
    ui.horizontal(|ui| {
        segments(ui, "hand", &mut filter.hand, &hands);
        let button = IconButton::new(Icon::Mirror, "Mirror this cord")
            .tip("Mirror this cord: the same moves for the other hand, an S lay becomes a Z lay");
        ui.add(button).clicked()
    })
    .inner
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_search_goes_through_all_numbers_of_strands() {
        let mut filter = Filter {
            strands: Some(8),
            ..Filter::default()
        };
        let found = |filter: &Filter| shelf().iter().filter(|s| filter.asks_for(s)).count();
        let eights = found(&filter);
        filter.search = "maru yotsu".to_owned();
        assert_eq!(found(&filter), 1, "of four strands");
        filter.search.clear();
        assert_eq!(found(&filter), eights);
        filter.clear();
        assert_eq!(found(&filter), shelf().len());
    }

    #[test]
    fn what_is_not_known_yet_is_listed() {
        let filter = Filter {
            section: Some(Section::Flat),
            remember: Some(3),
            ..Filter::default()
        };
        assert!(filter.keeps(None, None, None));
        let facts = Facts {
            verdict: crate::topology::Verdict::Locks { core: Vec::new() },
            repeat: 4,
            moves: 8,
            to_remember: 5,
        };
        assert!(
            !filter.keeps(Some(&facts), None, None),
            "five things, not three"
        );
        let firm = Filter {
            firmness: Some(Firmness::Firm),
            ..Filter::default()
        };
        assert!(firm.keeps(None, None, None) && firm.keeps(None, None, Some(Firmness::Firm)));
        assert!(!firm.keeps(None, None, Some(Firmness::Springy)));
    }
}
