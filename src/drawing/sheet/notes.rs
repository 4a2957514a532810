//! What must be said besides: cautions, the label, letters that could not be set.

use super::block::{Block, Flow};
use super::outline::Outline;
use super::paper::{Ink, Item, Pen};
use super::style::Style;
use super::{Sheet, spaced};
use crate::plan::{Caution, LOCAL_RULES_FIRST, Label, Plan};

impl Sheet<'_> {
    /// Cautions and label, side by side, or as running text where room is short.
    pub(crate) fn notes(&self, flow: &mut Flow) {
        let (plan, gap) = (self.input.plan, self.density.gap);
        if self.density.run_in {
            flow.place(spaced(self.cautions_run_in(plan), gap));
            return;
        }
        let half = (self.wide - 8.0) / 2.0;
        let (mut left, mut right) = (self.cautions(plan, half), self.label(plan, half));
        // Many cautions go on below the label.
        let many = left.len();
        let high = |blocks: &[Block]| blocks.iter().map(|block| block.high).sum::<f64>();
        while left.len() > 2 && high(&left) > high(&right) + 6.0 {
            let Some(block) = left.pop() else { break };
            right.insert(right.len() - (many - left.len() - 1), block);
        }
        flow.place_beside(spaced(left, gap), spaced(right, gap), half + 8.0);
    }

    /// What can hurt, with the rule's name.
    fn cautions(&self, plan: &Plan, wide: f64) -> Vec<Block> {
        if plan.cautions.is_empty() {
            return Vec::new();
        }
        let mut blocks = vec![self.section("Take care", LOCAL_RULES_SHORT, wide)];
        blocks.extend(plan.cautions.iter().map(|one| self.caution(one, wide)));
        blocks
    }

    /// All cautions in a paragraph.
    fn cautions_run_in(&self, plan: &Plan) -> Vec<Block> {
        if plan.cautions.is_empty() {
            return Vec::new();
        }
        let cautions: Vec<String> = plan.cautions.iter().map(said).collect();
        let text = format!("Take care. {} {LOCAL_RULES_FIRST}", cautions.join(" "));
        vec![self.lettering.column(Style::CLOSE, &text, self.wide)]
    }

    /// The label in a paragraph.
    pub(crate) fn label_run_in(&self, plan: &Plan, wide: f64) -> Vec<Block> {
        let label = labelled(&plan.label).join(" ");
        if label.is_empty() {
            return Vec::new();
        }
        let text = format!("Label. {label}");
        vec![self.lettering.column(Style::CLOSE, &text, wide)]
    }

    fn caution(&self, caution: &Caution, wide: f64) -> Block {
        let text = said(caution);
        let left = 4.6;
        let words = self.lettering.column(Style::NOTE, &text, wide - left);
        let mut block = words.shifted([left, 0.0]);
        let y = Style::NOTE.leading / 2.0;
        let sign = Outline::ring(&[[1.6, y - 1.5], [3.2, y + 1.2], [0.0, y + 1.2]]);
        let pen = Pen::new(0.25, Ink::BLACK).round();
        block.items.push(Item::drawn(sign, pen));
        let stroke = Pen::new(0.35, Ink::BLACK);
        block
            .items
            .push(Item::rule([1.6, y - 0.6], [1.6, y + 0.35], stroke));
        block
            .items
            .push(Item::rule([1.6, y + 0.6], [1.6, y + 0.9], stroke));
        block.high += 0.4;
        block
    }

    /// The label for the buyer.
    fn label(&self, plan: &Plan, wide: f64) -> Vec<Block> {
        let lines = labelled(&plan.label);
        if lines.is_empty() {
            return Vec::new();
        }
        let mut blocks = vec![self.section("Label", "for the buyer", wide)];
        let column = |line: &String| self.lettering.column(Style::NOTE, line, wide);
        blocks.extend(lines.iter().map(column));
        blocks
    }

    /// Which letters no font here has, once everything else is set.
    pub(crate) fn not_printed(&self) -> Vec<Block> {
        let lacked = self.lettering.lacked();
        if lacked.is_empty() {
            return Vec::new();
        }
        let stands = lacked.iter().enumerate().map(|(i, letters)| {
            let codes = letters.chars().map(|c| format!("U+{:04X}", u32::from(c)));
            let codes = codes.collect::<Vec<_>>().join(" ");
            format!("[{}] stands for {codes}", i + 1)
        });
        let stands = stands.collect::<Vec<_>>().join("; ");
        let text = format!(
            "No font on this computer has the letters of a name: {stands}. Install a font that has them and print again."
        );
        let mut blocks = vec![self.section("Not printed", "", self.wide)];
        blocks.push(self.lettering.column(Style::NOTE, &text, self.wide));
        blocks
    }
}

/// What stands beside the head of the cautions.
const LOCAL_RULES_SHORT: &str = "local rules and a measured sample first";

/// A caution in two sentences, with the rule's name.
fn said(caution: &Caution) -> String {
    let rule = match caution.rule {
        "" => String::new(),
        rule => format!(" ({rule})"),
    };
    let advice = caution.advice.trim_end_matches('.');
    format!("{} {advice}{rule}.", ended(&caution.what))
}

/// With a full stop, if it ends with nothing like it; begun with a capital.
fn ended(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    let text = first.unwrap_or_default() + letters.as_str();
    match text.ends_with(['.', '!', '?', ':']) {
        true => text,
        false => format!("{text}."),
    }
}

/// The label, a line for each of its parts that has something to say.
fn labelled(label: &Label) -> Vec<String> {
    let listed = |name: &str, words: &[String]| format!("{name}: {}.", words.join(", "));
    let mut lines = Vec::new();
    for (name, words) in [
        ("Fibres", &label.fibres),
        ("Metals", &label.metals),
        ("Contains", &label.remarks),
    ] {
        if !words.is_empty() {
            lines.push(listed(name, words));
        }
    }
    if !label.care.is_empty() {
        let care: Vec<String> = label.care.iter().map(|one| ended(one)).collect();
        lines.push(format!("Care: {}", care.join(" ")));
    }
    lines
}
