//! The lists for reading, aligned.

use crate::document::Design;
use crate::plan::{Cut, LOCAL_RULES_FIRST, Need, Plan, PriceLine, Ware, Workshop, Wound};
use crate::quantity::{Estimate, Length, Money, UnitSystem};

/// All that is told.
pub(super) struct Told<'a> {
    pub design: &'a Design,
    pub plan: &'a Plan,
    pub workshop: &'a Workshop,
    pub units: UnitSystem,
}

/// Lines under a heading; nothing for none.
fn under(heading: &str, lines: impl IntoIterator<Item = String>) -> String {
    let lines: Vec<String> = lines
        .into_iter()
        .map(|line| format!("  {line}\n"))
        .collect();
    if lines.is_empty() {
        return String::new();
    }
    format!("\n{heading}\n{}", lines.concat())
}

impl Told<'_> {
    pub(super) fn text(&self) -> String {
        let plan = self.plan;
        let mut text = self.head();
        text += &under("Cut", self.cuts());
        text += &under("Bobbins and weight", self.bobbins());
        text += &under("Needed and to buy", self.needs());
        text += &under(
            "Not enough on the shelf",
            plan.shopping.lacking.iter().cloned(),
        );
        text += &under("Cost and price", self.price());
        text += &under("Care and caution", self.cautions());
        text += &under("Label", self.label());
        text.trim_end().to_owned()
    }

    fn head(&self) -> String {
        let mut text = format!(
            "{}, {} strands",
            self.design.name,
            self.design.strands.len()
        );
        for run in &self.plan.cut.runs {
            let name = if run.size.is_empty() {
                "cord"
            } else {
                &run.size
            };
            text += &format!(
                "\n{} × {name}: {} rested, {} on the disc, about {:.0} moves",
                run.cords,
                run.rested.length(self.units),
                run.on_disc.length(self.units),
                run.moves.value
            );
        }
        text.push('\n');
        text
    }

    fn length(&self, mm: f64) -> String {
        Length::from_mm(mm).shown(self.units)
    }

    /// So many metres, or yards beside inches.
    fn metres(&self, metres: f64) -> String {
        Length::from_mm(1000.0 * metres).of_thread(self.units)
    }

    fn cuts(&self) -> Vec<String> {
        let list = &self.plan.cut;
        let mut lines: Vec<String> = list.cuts.iter().flat_map(|cut| self.cut(cut)).collect();
        let sure = 100.0 * list.sure;
        lines.push(format!(
            "each long enough in {sure:.1} of 100 cords, as far as the spreads go"
        ));
        lines.push(format!(
            "{} in all; {}",
            self.metres(list.metres),
            self.rule()
        ));
        lines.extend(list.notes.iter().cloned());
        lines
    }

    fn rule(&self) -> String {
        let list = &self.plan.cut;
        let saved = self.metres(list.saved.abs());
        let against = if list.saved < 0.0 { "less" } else { "more" };
        let rule = format!("three times the cord, the everyday rule, takes {saved} {against}");
        list.rule_short_by.map_or_else(
            || rule.clone(),
            |by| {
                format!(
                    "{rule} and would be short by {} a strand",
                    Estimate::exact(by).length(self.units)
                )
            },
        )
    }

    fn cut(&self, cut: &Cut) -> Vec<String> {
        let size = &self.plan.cut.runs[cut.run].size;
        let size = if size.is_empty() {
            String::new()
        } else {
            format!("  {size}")
        };
        let folded = if cut.is_folded() {
            ", folded double"
        } else {
            ""
        };
        let names = cut.names(self.design.strands.len());
        let mut lines = Vec::new();
        for (at, part) in cut.makes.parts.iter().enumerate() {
            lines.push(format!(
                "{:>3} × {:<10} {}, {} {}{folded}: {names}{size}",
                cut.count_of(at),
                self.length(cut.length),
                part.fibre,
                part.colour.name(),
                part.colour
            ));
        }
        let steps = cut.chain.links.iter().filter(|link| link.adds.value > 0.0);
        let steps = steps.map(|link| format!("{} {}", link.name, link.adds.length(self.units)));
        let steps: Vec<String> = steps.collect();
        let reserve = Estimate::exact(cut.reserve).length(self.units);
        lines.push(format!(
            "      a strand: {}; in reserve {reserve}",
            steps.join(", ")
        ));
        lines.extend(
            cut.beads
                .map(|beads| format!("      {beads} beads on each")),
        );
        lines
    }

    fn bobbins(&self) -> Vec<String> {
        let bobbins = &self.plan.bobbins;
        let mut lines: Vec<String> = bobbins.wound.iter().map(|w| self.wound(w)).collect();
        let weight = Estimate::exact(bobbins.counterweight).mass(self.units);
        lines.push(format!(
            "counterweight {weight}; usual {}",
            bobbins.usual.mass(self.units)
        ));
        lines.push(bobbins.advice.clone());
        lines.extend(bobbins.notes.iter().cloned());
        lines
    }

    fn wound(&self, wound: &Wound) -> String {
        let names = self.plan.cut.cuts[wound.cut].names(self.design.strands.len());
        let holds = self.metres(wound.holds);
        let joins = wound.joins;
        match &wound.bobbin {
            None if wound.hangs => {
                format!("{:>3} strands hang without bobbins: {names}", wound.count)
            }
            None if joins == 0 => format!("{:>3} strands without bobbins: {names}", wound.count),
            None => {
                let after = self.length(wound.join_after.unwrap_or(0.0));
                let joins = if joins == 1 {
                    "one join".to_owned()
                } else {
                    format!("{joins} joins")
                };
                format!(
                    "{:>3} strands too long for any bobbin, the largest holds {holds}; {joins} each, the first after {after} of cord: {names}",
                    wound.count
                )
            }
            Some(name) => {
                let lacking = wound.lacking;
                let lacks = if lacking > 0 {
                    format!(", {lacking} missing")
                } else {
                    String::new()
                };
                format!(
                    "{:>3} × {name}, each holds {holds}{lacks}: {names}",
                    wound.count
                )
            }
        }
    }

    fn needs(&self) -> Vec<String> {
        let shopping = &self.plan.shopping;
        let mut lines: Vec<String> = shopping.needs.iter().map(|need| self.need(need)).collect();
        let pay = self.money(shopping.to_pay);
        let unpriced = shopping.unpriced;
        let is_unknown = shopping.needs.iter().all(|need| need.cost.is_none());
        lines.push(match unpriced {
            1.. if is_unknown => "what is to pay is not known: no price is written down".to_owned(),
            0 => format!("to pay {pay}"),
            1 => format!("to pay {pay} and one thing whose price is not written down"),
            _ => format!("to pay {pay} and {unpriced} things whose price is not written down"),
        });
        lines
    }

    fn need(&self, need: &Need) -> String {
        let amount = |value: f64| match need.unit() {
            "m" => self.metres(value),
            unit => format!("{value:.0} {unit}").trim_end().to_owned(),
        };
        let buy = match (need.buy, need.put_up) {
            (0, _) => String::new(),
            (buy, Some((put_up, in_one))) => {
                format!(", buy {buy} × {} of {}", put_up.name(), amount(in_one))
            }
            (buy, None) => format!(", buy {}", amount(f64::from(buy))),
        };
        let there = if need.ware.is_small() {
            String::new()
        } else {
            format!(", {} there", amount(need.there))
        };
        let note = if need.note.is_empty() {
            String::new()
        } else {
            format!(" ({})", need.note)
        };
        let grams = match &need.ware {
            Ware::Beads { grams, .. } => format!(", {}", Estimate::exact(*grams).mass(self.units)),
            _ => String::new(),
        };
        format!(
            "{:<11} {}{grams}{there}{buy}{note}",
            amount(need.needed),
            super::exactly(&need.ware)
        )
    }

    fn money(&self, money: Money) -> String {
        let prices = &self.workshop.prices;
        format!("{} {}", money.shown(prices.places), prices.currency)
            .trim_end()
            .to_owned()
    }

    fn price(&self) -> Vec<String> {
        let price = &self.plan.price;
        let line = |line: &PriceLine| {
            let cost = line
                .cost
                .map_or_else(|| "no price".to_owned(), |cost| self.money(cost));
            format!("{cost:>12}  {}: {}", super::priced(line), line.detail)
        };
        let mut lines: Vec<String> = price.lines.iter().map(line).collect();
        if price.lines.iter().all(|line| line.cost.is_none()) {
            lines.push("what to ask is not known: no price is written down".to_owned());
            return lines;
        }
        let percent = &self.workshop.prices;
        for (what, sum) in [
            ("costs".to_owned(), price.costs),
            (format!("margin of {} %", percent.margin), price.margin),
            (format!("tax of {} %", percent.tax), price.tax),
            (format!("to ask for {}", pieces(price.pieces)), price.ask),
        ] {
            lines.push(format!("{:>12}  {what}", self.money(sum)));
        }
        match price.unpriced {
            0 => {}
            1 => lines.push("one line has no price and counts for nothing".to_owned()),
            n => lines.push(format!("{n} lines have no price and count for nothing")),
        }
        lines
    }

    fn cautions(&self) -> Vec<String> {
        let each = self.plan.cautions.iter().map(|caution| {
            let rule = if caution.rule.is_empty() {
                String::new()
            } else {
                format!(" ({})", caution.rule)
            };
            format!("{}. {}{rule}", caution.what, caution.advice)
        });
        each.chain([LOCAL_RULES_FIRST.to_owned()]).collect()
    }

    fn label(&self) -> Vec<String> {
        let label = &self.plan.label;
        let row = |of: &[String], between: &str| (!of.is_empty()).then(|| of.join(between));
        [
            row(&label.fibres, ", "),
            row(&label.metals, ", "),
            row(&label.remarks, "; "),
            row(&label.care, " "),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

fn pieces(count: u32) -> String {
    match count {
        1 => "the piece".to_owned(),
        _ => format!("{count} pieces"),
    }
}
