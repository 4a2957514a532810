//! What must be said besides: cautions, the label, letters that could not be set.

use super::Sheet;
use super::block::Block;
use super::head::section;
use super::outline::Outline;
use super::paper::{Ink, Item, Pen};
use super::style::Style;
use crate::plan::{Caution, LOCAL_RULES_FIRST, Label, Plan};

impl Sheet<'_> {
    /// What can hurt, with the rule's name.
    pub(crate) fn cautions(&self, plan: &Plan, wide: f64) -> Vec<Block> {
        if plan.cautions.is_empty() {
            return Vec::new();
        }
        let mut blocks = vec![section(&self.lettering, "Take care", "", wide)];
        blocks.extend(plan.cautions.iter().map(|one| self.caution(one, wide)));
        let last = self.lettering.column(Style::NOTE, LOCAL_RULES_FIRST, wide);
        blocks.push(last.above(0.6));
        blocks
    }

    fn caution(&self, caution: &Caution, wide: f64) -> Block {
        let rule = match caution.rule {
            "" => String::new(),
            rule => format!(" ({rule})"),
        };
        let text = format!("{} {}{rule}", caution.what, caution.advice);
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
    pub(crate) fn label(&self, plan: &Plan, wide: f64) -> Vec<Block> {
        let Label {
            fibres,
            metals,
            remarks,
            care,
        } = &plan.label;
        let lines = [
            ("Fibres", fibres),
            ("Metals", metals),
            ("Contains", remarks),
            ("Care", care),
        ];
        let mut blocks = vec![section(&self.lettering, "Label", "for the buyer", wide)];
        for (name, words) in lines {
            if !words.is_empty() {
                let text = format!("{name}: {}.", words.join(", "));
                blocks.push(self.lettering.column(Style::NOTE, &text, wide));
            }
        }
        match blocks.len() {
            1 => Vec::new(),
            _ => blocks,
        }
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
        let mut blocks = vec![section(&self.lettering, "Not printed", "", self.wide)];
        blocks.push(self.lettering.column(Style::NOTE, &text, self.wide));
        blocks
    }
}
