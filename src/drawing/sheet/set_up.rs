//! Setting up: the disc with its strands, what to cut, bobbins and weight.

use super::Sheet;
use super::block::{Block, Flow};
use super::disc::{Disc, diamond};
use super::paper::{Ink, Item, Meaning, Pen};
use super::strand::strand;
use super::style::Style;
use crate::cord::strand_name;
use crate::material::{Part, Strand};
use crate::plan::{Chain, Cut, Plan, Wound};
use crate::quantity::{Length, Mass, UnitSystem};
use crate::structure::{Place, Plate};

impl Sheet<'_> {
    /// A disc of this design with its strands in these places.
    pub(crate) fn disc<'b>(&'b self, radius: f64, places: &'b [Place]) -> Disc<'b> {
        Disc {
            lettering: &self.lettering,
            plate: self.moves.plate,
            slots: self.moves.slots,
            numbering: self.input.design.braiding.numbering,
            radius,
            strands: &self.seen,
            places,
        }
    }

    /// The disc, and how its marks lie.
    pub(crate) fn set_up(&self, wide: f64) -> Vec<Block> {
        let disc = self.disc(self.density.disc, &self.moves.start);
        let reach = disc.reach();
        let mut items = disc.bare();
        items.extend(disc.numbers());
        let shows = format!(
            "{} of {} slots as it is set up: {}",
            self.moves.plate.word(),
            self.moves.slots,
            self.seated()
        );
        let figure = Item::part(Meaning::Figure(shows), items);
        let drawn = Block::new(2.0 * reach, vec![figure]).shifted([wide / 2.0, reach]);
        let mut blocks = vec![self.section("Set up", "", wide), drawn];
        blocks.extend(self.marks(wide).map(|block| block.above(1.0)));
        let cores = self.input.design.cores();
        if !cores.is_empty() {
            let made: Vec<String> = cores.iter().map(told).collect();
            let text = format!("Up the middle, not moved: {}.", made.join("; "));
            let block = self.lettering.column(Style::NOTE, &text, wide);
            blocks.push(block.above(1.0));
        }
        blocks
    }

    /// Which strand lies where, in words.
    fn seated(&self) -> String {
        let disc = self.disc(1.0, &self.moves.start);
        let pairs = self.seen.iter().zip(&self.moves.start);
        let words = pairs.map(|(seen, place)| format!("{} in {}", seen.letter, disc.label(*place)));
        words.collect::<Vec<_>>().join(", ")
    }

    fn marks(&self, wide: f64) -> Option<Block> {
        if self.moves.plate == Plate::Square || !self.moves.slots.is_multiple_of(4) {
            return None;
        }
        let disc = self.disc(1.0, &[]);
        let slots = self.moves.slots;
        let quarter = i32::from(slots) / 2;
        let between = (0..4).map(|k| {
            let after = Place::slot(1).turned(k * quarter, slots);
            let pair = [disc.label(after.turned(-2, slots)), disc.label(after)];
            pair.join(" and ")
        });
        let between: Vec<String> = between.collect();
        let text = match self.density.run_in {
            true => format!("marks: {}", between.join(", ").replace(" and ", "|")),
            false => format!("marks stand between slots {}", between.join(", ")),
        };
        let mut block = self.lettering.column(Style::NOTE, &text, wide - 4.5);
        block = block.shifted([4.5, 0.0]);
        let mark = diamond([1.4, Style::NOTE.leading / 2.0], 1.2);
        block
            .items
            .push(Item::drawn(mark, Pen::new(0.25, Ink::BLACK)));
        Some(block)
    }

    /// What to cut, kind by kind.
    pub(crate) fn cut(&self, plan: &Plan, wide: f64) -> Vec<Block> {
        let folded = plan.cut.cuts.iter().any(Cut::is_folded);
        let remark = match folded {
            true => "fold each length at its middle",
            false => "",
        };
        let mut blocks = vec![self.section("Cut", remark, wide)];
        for cut in &plan.cut.cuts {
            blocks.push(self.one_cut(plan, cut, wide));
        }
        blocks.push(self.cut_remarks(plan, wide).above(1.0));
        blocks
    }

    fn one_cut(&self, plan: &Plan, cut: &Cut, wide: f64) -> Block {
        let close = self.density.close;
        let set = &self.lettering;
        let value = format!("{} × {}", cut.count, self.cut_length(cut.length));
        let style = Style::VALUE.for_figure(&value);
        let left = 11.5;
        let room = wide - left - set.wide(style, &value) - 4.0;
        let mut words = set.column(Style::NAME, &told(&cut.makes), room);
        let mut whose = self.whose(plan, cut);
        if close {
            whose.push_str(&format!("; in reserve {}", self.length(cut.reserve)));
        }
        words.push(set.column(Style::NOTE, &whose, room));
        let mut block = Block::default();
        block.lay([left, 0.0], words);
        let filling = cut.strands.iter().flatten().next();
        let filling = filling.and_then(|&i| self.seen.get(i)?.filling);
        let y = Style::NAME.leading / 2.0;
        block
            .items
            .extend(strand([1.4, y + 0.6], [8.2, y + 0.6], 2.6, filling));
        let number = set.words_to(style, [wide, y + style.drop()], &value);
        block.items.push(Item::part(Meaning::Text, vec![number]));
        if !close {
            let why = set.column(Style::NOTE, &self.made_up(cut), wide - left);
            block.push(why.shifted([left, 0.0]));
        }
        let y = block.high + 0.9;
        let pen = Pen::new(0.15, Ink::RULE);
        block.items.push(Item::rule([0.0, y], [wide, y], pen));
        block.high = y + 0.7;
        block
    }

    /// `A+B, C+D` where lengths are folded, `A, B` where not; of cores their word.
    fn letters(&self, cut: &Cut) -> String {
        if cut.is_core(self.seen.len()) {
            return "core".to_owned();
        }
        let group = |group: &Vec<usize>| {
            let letters: Vec<String> = group.iter().map(|i| strand_name(*i)).collect();
            letters.join("+")
        };
        let groups: Vec<String> = cut.strands.iter().map(group).collect();
        groups.join(", ")
    }

    /// For whom a cut is, and what is strung on it.
    fn whose(&self, plan: &Plan, cut: &Cut) -> String {
        let mut whose = self.letters(cut);
        if let Some(beads) = cut.beads {
            whose.push_str(&format!("; {beads} beads on each"));
        }
        let run = plan.cut.runs.get(cut.run);
        if let Some(run) = run.filter(|_| plan.cut.runs.len() > 1) {
            let size = if run.size.is_empty() {
                "the piece itself"
            } else {
                &run.size
            };
            whose = format!("{size}: {whose}");
        }
        whose
    }

    /// How a length comes about.
    fn made_up(&self, cut: &Cut) -> String {
        let (shown, _) = cut.chain.shown(self.input.units);
        let links = cut.chain.links.iter().zip(shown);
        let mut parts: Vec<String> = links
            .map(|(link, shown)| format!("{} {}", link.name, shown.figure))
            .collect();
        parts.push(format!("in reserve {}", self.length(cut.reserve)));
        parts.join(", ")
    }

    fn cut_remarks(&self, plan: &Plan, wide: f64) -> Block {
        let cut = &plan.cut;
        let left = cut.cuts.iter().map(|one| one.left_over).fold(0.0, f64::max);
        let thumb = cut
            .cuts
            .iter()
            .map(|one| one.rule_of_thumb)
            .fold(0.0, f64::max);
        let mut text = format!(
            "Long enough {} times in 100. Left over on a strand: {} that cannot be braided. The everyday rule, three times, would cut {}",
            trimmed(100.0 * cut.sure),
            self.length(left),
            self.cut_length(thumb),
        );
        match cut.rule_short_by {
            Some(short) => text.push_str(&format!(": short by {}.", self.length(short))),
            None => text.push('.'),
        }
        for note in &cut.notes {
            text.push(' ');
            text.push_str(note);
        }
        self.lettering.column(Style::NOTE, &text, wide)
    }

    /// A length to cut: in metres where it is long.
    pub(crate) fn cut_length(&self, mm: f64) -> String {
        match self.input.units {
            UnitSystem::Millimetres if mm >= 1000.0 => format!("{:.2} m", mm / 1000.0),
            UnitSystem::Millimetres => format!("{:.0} mm", mm),
            UnitSystem::Inches => Length::from_mm(mm).shown(UnitSystem::Inches),
        }
    }

    pub(crate) fn length(&self, mm: f64) -> String {
        Length::from_mm(mm).shown(self.input.units)
    }

    /// Bobbins and what hangs below.
    pub(crate) fn bobbins(&self, plan: &Plan, wide: f64) -> Vec<Block> {
        let bobbins = &plan.bobbins;
        let mut text = Vec::new();
        for alike in bobbins.wound.chunk_by(wound_alike) {
            text.push(self.wound(plan, alike));
        }
        let weight = Mass::from_grams(bobbins.counterweight).written(self.input.units);
        text.push(format!("Counterweight {weight}. {}", bobbins.advice));
        text.extend(bobbins.notes.iter().cloned());
        let mut blocks = vec![self.section("Bobbins and weight", "", wide)];
        let lines = text.iter();
        blocks.extend(lines.map(|line| self.lettering.column(Style::TEXT, line, wide)));
        blocks
    }

    /// Bobbins of one kind, with what is on them.
    fn wound(&self, plan: &Plan, alike: &[Wound]) -> String {
        let count: u32 = alike.iter().map(|wound| wound.count).sum();
        let cuts = alike
            .iter()
            .filter_map(|wound| plan.cut.cuts.get(wound.cut));
        let letters: Vec<String> = cuts.map(|cut| self.letters(cut)).collect();
        let first = &alike[0];
        let whose = letters.join(", ");
        if first.hangs {
            return format!("{whose} are so short that they hang without a bobbin.");
        }
        let which = match &first.bobbin {
            Some(name) => format!("{count} × {name}"),
            None => "No bobbin takes it whole".to_owned(),
        };
        let after = first.join_after.map_or_else(String::new, |mm| {
            format!(", the first after {} of cord", self.length(mm))
        });
        let joins = match first.joins {
            0 => String::new(),
            1 => format!(", 1 join a strand{after}"),
            n => format!(", {n} joins a strand{after}"),
        };
        let pay = self.length(first.pay_out);
        format!("{which} for {whose}{joins}; let off {pay} at a time.")
    }

    /// The steps from the wearer to the disc: two sums side by side, or on a line.
    pub(crate) fn lengths(&self, flow: &mut Flow) {
        let (plan, gap) = (self.input.plan, self.density.gap);
        let chains = [
            (&plan.length, "the rested cord"),
            (&plan.on_disc, "stop on the disc at"),
        ];
        if self.density.close {
            let sums = chains.map(|(chain, total)| self.sum(chain, total));
            let text = format!("Lengths: {}.", sums.join("; "));
            let style = match self.density.run_in {
                true => Style::CLOSE,
                false => Style::NOTE,
            };
            let block = self.lettering.column(style, &text, self.wide);
            flow.place(vec![block.above(1.5)]);
            return;
        }
        let half = (self.wide - 8.0) / 2.0;
        let [length, on_disc] = chains.map(|(chain, total)| self.chain(chain, total, half));
        let head = self.section("Lengths", "", self.wide).above(gap);
        // Both are placed with the head, so that it never stands alone.
        let mut block = Block::stack(length);
        block.lay([half + 8.0, 0.0], Block::stack(on_disc));
        flow.place(vec![head, block]);
    }

    /// A chain on a line: `worn 450 mm, clasp −14 mm: rested 472 mm (467 to 477)`.
    fn sum(&self, chain: &Chain, total: &str) -> String {
        let (links, sum) = chain.shown(self.input.units);
        let links = chain.links.iter().zip(links);
        let links: Vec<String> = links
            .map(|(link, shown)| format!("{} {shown}", link.name))
            .collect();
        format!("{}: {total} {sum}", links.join(", "))
    }

    fn chain(&self, chain: &Chain, total: &str, wide: f64) -> Vec<Block> {
        let (links, sum) = chain.shown(self.input.units);
        let mut rows: Vec<Block> = Vec::new();
        for (i, (link, shown)) in chain.links.iter().zip(links).enumerate() {
            let is_plain = i == 0 || shown.figure.starts_with('−');
            let sign = if is_plain { "" } else { "+ " };
            let figure = format!("{sign}{}", shown.figure);
            rows.push(self.row(Style::NOTE, &link.name, &figure, &shown.spread, wide));
        }
        let figure = format!("= {}", sum.figure);
        rows.push(self.row(Style::NAME, total, &figure, &sum.spread, wide));
        rows
    }

    /// A name at the left, a figure and its spread at the right.
    fn row(&self, style: Style, name: &str, figure: &str, spread: &str, wide: f64) -> Block {
        let set = &self.lettering;
        let spread_at = wide;
        let figure_at = wide - 27.0;
        let room = figure_at - set.wide(style, figure) - 3.0;
        let mut row = set.column(style, name, room);
        let y = style.leading / 2.0 + style.drop();
        let words = vec![
            set.words_to(style, [figure_at, y], figure),
            set.words_to(Style::NOTE, [spread_at, y], spread),
        ];
        row.items.push(Item::part(Meaning::Text, words));
        row
    }
}

fn wound_alike(one: &Wound, other: &Wound) -> bool {
    let same = |wound: &Wound| {
        let (after, pay) = (wound.join_after.map(f64::to_bits), wound.pay_out.to_bits());
        (wound.bobbin.clone(), wound.hangs, wound.joins, after, pay)
    };
    same(one) == same(other)
}

/// What a strand is made of, in words.
pub(crate) fn told(strand: &Strand) -> String {
    let part = |part: &Part| {
        let ends = match part.ends {
            1 => String::new(),
            n => format!(", {n} ends"),
        };
        format!("{}, {}{ends}", part.fibre, part.colour.name())
    };
    let parts: Vec<String> = strand.parts.iter().map(part).collect();
    parts.join(" with ")
}

/// Without idle noughts.
fn trimmed(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}
