//! The lists as one JSON object.

use serde::Serialize;

use crate::command_line::report::Spread;
use crate::document::Design;
use crate::plan::{Caution, Chain, Cut, Need, Plan, PriceLine, Run, Where, Workshop, Wound};
use crate::quantity::Money;

/// The answer of `cut --json`, in this order; money as text, for it is exact.
#[derive(Serialize)]
pub(super) struct Answer<'a> {
    name: &'a str,
    strands: usize,
    /// Whether the workshop is the invented one.
    example_workshop: bool,
    cords: Vec<Cord<'a>>,
    length: Steps<'a>,
    sure: f64,
    cuts: Vec<Told<'a>>,
    metres: f64,
    everyday_rule_more_m: f64,
    everyday_rule_short_by_mm: Option<f64>,
    notes: &'a [String],
    bobbins: Vec<OnBobbins<'a>>,
    bobbins_g: Spread,
    counterweight_g: f64,
    usual_counterweight_g: Spread,
    counterweight_advice: &'a str,
    needs: Vec<Line<'a>>,
    to_pay: String,
    lacking: &'a [String],
    price: Priced<'a>,
    cautions: Vec<Said<'a>>,
    label: OnLabel<'a>,
}

#[derive(Serialize)]
struct Cord<'a> {
    size: &'a str,
    cords: u32,
    pieces: u32,
    rested_mm: Spread,
    on_disc_mm: Spread,
    moves: Spread,
}

#[derive(Serialize)]
struct Step<'a> {
    name: &'a str,
    adds_mm: Spread,
    reason: &'a str,
}

#[derive(Serialize)]
struct Steps<'a> {
    steps: Vec<Step<'a>>,
    total_mm: Spread,
}

#[derive(Serialize)]
struct Part<'a> {
    fibre: &'a str,
    colour: String,
    ends: u16,
    count: u32,
}

#[derive(Serialize)]
struct Told<'a> {
    cord: usize,
    parts: Vec<Part<'a>>,
    strands: String,
    folded: bool,
    count: u32,
    length_mm: f64,
    in_the_cord_mm: f64,
    beads: Option<u32>,
    strand: Steps<'a>,
    reserve_mm: f64,
    left_over_mm: f64,
    everyday_rule_mm: f64,
}

#[derive(Serialize)]
struct OnBobbins<'a> {
    strands: String,
    bobbin: Option<&'a str>,
    count: u32,
    lacking: u32,
    hangs: bool,
    holds_m: f64,
    joins: u32,
    join_after_mm: Option<f64>,
    pay_out_mm: f64,
}

#[derive(Serialize)]
struct Line<'a> {
    what: String,
    unit: &'a str,
    needed: f64,
    there: f64,
    sold_by: Option<&'a str>,
    in_one: Option<f64>,
    buy: u32,
    cost: Option<String>,
    note: &'a str,
}

#[derive(Serialize)]
struct Priced<'a> {
    currency: &'a str,
    lines: Vec<Costs<'a>>,
    costs: String,
    unpriced: usize,
    hours: Spread,
    margin: String,
    tax: String,
    ask: String,
    pieces: u32,
    ask_each: String,
}

#[derive(Serialize)]
struct Costs<'a> {
    name: String,
    detail: &'a str,
    cost: Option<String>,
}

#[derive(Serialize)]
struct Said<'a> {
    place: &'static str,
    what: &'a str,
    advice: &'a str,
    rule: &'a str,
}

#[derive(Serialize)]
struct OnLabel<'a> {
    fibres: &'a [String],
    metals: &'a [String],
    remarks: &'a [String],
    care: &'a [String],
}

/// To a thousandth.
fn rounded(value: f64) -> f64 {
    (value * 1e3).round() / 1e3
}

impl<'a> Answer<'a> {
    pub(super) fn of(design: &'a Design, plan: &'a Plan, workshop: &'a Workshop) -> Self {
        let strands = design.strands.len();
        let places = workshop.prices.places;
        let (cut, bobbins, shopping) = (&plan.cut, &plan.bobbins, &plan.shopping);
        let wound = |wound: &'a Wound| on_bobbins(wound, cut.cuts[wound.cut].names(strands));
        Self {
            name: &design.name,
            strands,
            example_workshop: workshop.example,
            cords: cut.runs.iter().map(cord).collect(),
            length: steps(&plan.length),
            sure: cut.sure,
            cuts: cut.cuts.iter().map(|one| told(one, strands)).collect(),
            metres: rounded(cut.metres),
            everyday_rule_more_m: rounded(cut.saved),
            everyday_rule_short_by_mm: cut.rule_short_by.map(rounded),
            notes: &cut.notes,
            bobbins: bobbins.wound.iter().map(wound).collect(),
            bobbins_g: bobbins.grams.into(),
            counterweight_g: bobbins.counterweight,
            usual_counterweight_g: bobbins.usual.into(),
            counterweight_advice: &bobbins.advice,
            needs: shopping
                .needs
                .iter()
                .map(|need| line(need, places))
                .collect(),
            to_pay: amount(shopping.to_pay, places),
            lacking: &shopping.lacking,
            price: priced(plan, workshop),
            cautions: plan.cautions.iter().map(said).collect(),
            label: OnLabel {
                fibres: &plan.label.fibres,
                metals: &plan.label.metals,
                remarks: &plan.label.remarks,
                care: &plan.label.care,
            },
        }
    }
}

fn amount(money: Money, places: u8) -> String {
    let rounded = money.rounded(places).amount();
    format!("{rounded:.*}", usize::from(places))
}

fn cord(run: &Run) -> Cord<'_> {
    Cord {
        size: &run.size,
        cords: run.cords,
        pieces: run.pieces,
        rested_mm: run.rested.into(),
        on_disc_mm: run.on_disc.into(),
        moves: run.moves.into(),
    }
}

fn steps(chain: &Chain) -> Steps<'_> {
    Steps {
        steps: chain
            .links
            .iter()
            .map(|link| Step {
                name: &link.name,
                adds_mm: link.adds.into(),
                reason: &link.reason,
            })
            .collect(),
        total_mm: chain.total.into(),
    }
}

fn told(cut: &Cut, strands: usize) -> Told<'_> {
    let parts = cut.makes.parts.iter().enumerate();
    let part = parts.map(|(at, part)| Part {
        fibre: &part.fibre,
        colour: part.colour.to_string(),
        ends: part.ends,
        count: cut.count_of(at),
    });
    Told {
        cord: cut.run,
        parts: part.collect(),
        strands: cut.names(strands),
        folded: cut.is_folded(),
        count: cut.count,
        length_mm: rounded(cut.length),
        in_the_cord_mm: rounded(cut.braided),
        beads: cut.beads,
        strand: steps(&cut.chain),
        reserve_mm: rounded(cut.reserve),
        left_over_mm: rounded(cut.left_over),
        everyday_rule_mm: rounded(cut.rule_of_thumb),
    }
}

fn on_bobbins(wound: &Wound, strands: String) -> OnBobbins<'_> {
    OnBobbins {
        strands,
        bobbin: wound.bobbin.as_deref(),
        count: wound.count,
        lacking: wound.lacking,
        hangs: wound.hangs,
        holds_m: rounded(wound.holds),
        joins: wound.joins,
        join_after_mm: wound.join_after.map(rounded),
        pay_out_mm: rounded(wound.pay_out),
    }
}

fn line(need: &Need, places: u8) -> Line<'_> {
    Line {
        what: super::exactly(&need.ware),
        unit: need.unit(),
        needed: rounded(need.needed),
        there: rounded(need.there),
        sold_by: need.put_up.map(|(put_up, _)| put_up.name()),
        in_one: need.put_up.map(|(_, in_one)| rounded(in_one)),
        buy: need.buy,
        cost: need.cost.map(|cost| amount(cost, places)),
        note: &need.note,
    }
}

fn priced<'a>(plan: &'a Plan, workshop: &'a Workshop) -> Priced<'a> {
    let (price, places) = (&plan.price, workshop.prices.places);
    let costs = |line: &'a PriceLine| Costs {
        name: super::priced(line),
        detail: &line.detail,
        cost: line.cost.map(|cost| amount(cost, places)),
    };
    Priced {
        currency: &workshop.prices.currency,
        lines: price.lines.iter().map(costs).collect(),
        costs: amount(price.costs, places),
        unpriced: price.unpriced,
        hours: price.hours.into(),
        margin: amount(price.margin, places),
        tax: amount(price.tax, places),
        ask: amount(price.ask, places),
        pieces: price.pieces,
        ask_each: amount(price.ask_each, places),
    }
}

fn said(caution: &Caution) -> Said<'_> {
    Said {
        place: match caution.place {
            Where::Ends => "ends",
            Where::Wearer => "wearer",
            Where::Material => "material",
            Where::Work => "work",
        },
        what: &caution.what,
        advice: &caution.advice,
        rule: caution.rule,
    }
}
