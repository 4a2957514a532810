//! What is needed, what is there, what must be bought.
//!
//! Thread is counted in metres, strings of beads in beads, findings one by one. What
//! is needed counts the spare that the maker wants ([`Cutting::waste`]). A shelf entry
//! of a colour serves that colour; one of no colour serves what is left of any.
//!
//! Costs are rounded line by line to the smallest unit; sums are those of the lines.
//!
//! [`Cutting::waste`]: super::Cutting::waste

use super::Job;
use super::cut::{CutList, bead_length};
use super::enough::lacking;
use super::findings::found;
use super::workshop::{PutUp, Stock};
use crate::material::{Colour, Fibre};
use crate::quantity::Money;

/// What a line of the list is about.
#[derive(Debug, Clone, PartialEq)]
pub enum Ware {
    /// Thread of a fibre in a colour, m.
    Thread {
        /// Name of the fibre.
        fibre: String,
        /// Its colour.
        colour: Colour,
    },
    /// Beads of a fibre that is a string of them, counted.
    Beads {
        /// Name of the fibre.
        fibre: String,
        /// Their colour.
        colour: Colour,
        /// What they weigh, g.
        grams: f64,
    },
    /// A finding, by its name.
    Finding(String),
    /// Thread to bind the ends with, m; paid for with the small things.
    Binding,
    /// Glue for so many ends, of this kind; paid for with the small things.
    Glue(&'static str),
}

/// One line of the shopping list.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// What.
    pub ware: Ware,
    /// How much is needed, m or pieces, waste included.
    pub needed: f64,
    /// How much is there, m or pieces.
    pub there: f64,
    /// How it is sold, if the maker wrote it down, and how much is in one, m or pieces.
    pub put_up: Option<(PutUp, f64)>,
    /// How many put-ups or pieces must be bought; metres where none is written down.
    pub buy: u32,
    /// What that costs; none if the price is not known.
    pub cost: Option<Money>,
    /// What is used of it costs; none if the price is not known.
    pub used: Option<Money>,
    /// A remark, as on the dye lot; empty without.
    pub note: String,
}

/// The shopping list.
#[derive(Debug, Clone, PartialEq)]
pub struct Shopping {
    /// Line by line.
    pub needs: Vec<Need>,
    /// What must be paid at the shop; of what has a price.
    pub to_pay: Money,
    /// Lines to be bought that have no price.
    pub unpriced: usize,
    /// Why the piece cannot be braided from what is on the shelf, and with what it
    /// could, one line for each thread that is short.
    pub lacking: Vec<String>,
}

impl Ware {
    /// In words: `satin cord 2 mm, polyester, teal`.
    pub fn words(&self) -> String {
        match self {
            Self::Thread { fibre, colour } | Self::Beads { fibre, colour, .. } => {
                format!("{fibre}, {}", colour.name())
            }
            Self::Finding(name) => name.clone(),
            Self::Binding => "binding thread".into(),
            Self::Glue(kind) => format!("glue: {kind}"),
        }
    }

    /// Whether it is paid for with the small things of the workshop.
    pub fn is_small(&self) -> bool {
        matches!(self, Self::Binding | Self::Glue(_))
    }
}

impl Need {
    /// How much of it is missing, m or pieces.
    pub fn short(&self) -> f64 {
        (self.needed - self.there).max(0.0)
    }
}

/// Thread of one fibre in one colour.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Want {
    pub fibre: String,
    pub colour: Colour,
    /// Cut and kept to spare, m.
    pub metres: f64,
    /// The longest length of it, m.
    pub longest: f64,
    /// The same in beads of a string of them.
    pub beads: Option<f64>,
}

/// What a list wants of each thread, in the order of the list.
pub(super) fn wants(job: &Job<'_>, list: &CutList) -> Vec<Want> {
    let spare = 1.0 + job.workshop.cutting.waste;
    let mut wants: Vec<Want> = Vec::new();
    for cut in &list.cuts {
        for (at, part) in cut.makes.parts.iter().enumerate() {
            let count = f64::from(cut.count_of(at));
            let metres = count * cut.length / 1000.0 * spare;
            let fibre = job.fibres.iter().find(|fibre| fibre.name == part.fibre);
            let is_beads = fibre.and_then(bead_length).is_some();
            let beads = cut
                .beads
                .filter(|_| is_beads)
                .map(|n| f64::from(n) * count * spare);
            let same = |want: &&mut Want| want.fibre == part.fibre && want.colour == part.colour;
            match wants.iter_mut().find(same) {
                Some(want) => {
                    want.metres += metres;
                    want.longest = want.longest.max(cut.length / 1000.0);
                    want.beads = want
                        .beads
                        .zip(beads)
                        .map(|(a, b)| a + b)
                        .or(want.beads)
                        .or(beads);
                }
                None => wants.push(Want {
                    fibre: part.fibre.clone(),
                    colour: part.colour,
                    metres,
                    longest: cut.length / 1000.0,
                    beads,
                }),
            }
        }
    }
    wants
}

/// What lies there for each of the wants, m, nothing promised twice.
pub(super) fn there(stock: &[Stock], wants: &[Want]) -> Vec<f64> {
    let own = |want: &Want| -> f64 {
        let own = stock
            .iter()
            .filter(|s| s.fibre == want.fibre && s.colour == Some(want.colour));
        // From nought: the sum of nothing would be minus nought.
        own.fold(0.0, |there, s| there + s.on_shelf)
    };
    let mut left: Vec<f64> = stock
        .iter()
        .map(|s| if s.colour.is_none() { s.on_shelf } else { 0.0 })
        .collect();
    let mut all = Vec::with_capacity(wants.len());
    for want in wants {
        let mut there = own(want);
        for (at, _) in stock
            .iter()
            .enumerate()
            .filter(|(_, s)| s.fibre == want.fibre)
        {
            let taken = left[at].min((want.metres - there).max(0.0));
            left[at] -= taken;
            there += taken;
        }
        all.push(there);
    }
    all
}

/// What to buy for these cords.
pub(super) fn shopping(job: &Job<'_>, list: &CutList) -> Shopping {
    let wants = wants(job, list);
    let there = there(&job.workshop.stock, &wants);
    let threads = wants
        .iter()
        .zip(&there)
        .map(|(want, &there)| thread(job, want, there));
    let mut needs: Vec<Need> = threads.collect();
    needs.extend(found(job, list));
    let to_buy = || {
        needs
            .iter()
            .filter(|need| need.buy > 0 && !need.ware.is_small())
    };
    Shopping {
        to_pay: to_buy().filter_map(|need| need.cost).sum(),
        unpriced: to_buy().filter(|need| need.cost.is_none()).count(),
        lacking: lacking(job, &list.runs, &wants, &there),
        needs,
    }
}

/// The shelf's entry by which more of it is bought: of its colour and with a price first.
fn sold<'a>(stock: &'a [Stock], want: &Want) -> Option<&'a Stock> {
    let fits =
        |s: &&Stock| s.fibre == want.fibre && s.colour.is_none_or(|colour| colour == want.colour);
    let rank = |s: &&Stock| (s.colour.is_none(), s.price.is_none());
    stock.iter().filter(fits).min_by_key(rank)
}

/// A line of thread or beads; `there` in metres.
fn thread(job: &Job<'_>, want: &Want, there: f64) -> Need {
    let workshop = job.workshop;
    let fibre = job.fibres.iter().find(|fibre| fibre.name == want.fibre);
    // Beads in a metre of their string; a metre of thread is a metre.
    let per_metre = fibre
        .and_then(bead_length)
        .map_or(1.0, |length| 1000.0 / length);
    let needed = want.beads.map_or(want.metres, f64::ceil);
    let there = if want.beads.is_some() {
        (there * per_metre).floor()
    } else {
        there
    };
    let sold = sold(&workshop.stock, want);
    let in_one = sold.map_or(1.0, |s| s.metres) * per_metre;
    let buy = whole((needed - there).max(0.0) / in_one);
    let places = workshop.prices.places;
    let price = sold.and_then(|s| s.price);
    let nothing = (buy == 0).then(Money::default);
    Need {
        ware: ware(want, fibre, needed / per_metre),
        needed,
        there,
        put_up: sold.map(|s| (s.put_up, in_one)),
        buy,
        cost: price
            .map(|p| p.times(f64::from(buy)).rounded(places))
            .or(nothing),
        used: price.map(|p| p.times(needed / in_one).rounded(places)),
        note: note(job, want, (there, buy), sold),
    }
}

fn ware(want: &Want, fibre: Option<&Fibre>, metres: f64) -> Ware {
    let (name, colour) = (want.fibre.clone(), want.colour);
    match want.beads {
        None => Ware::Thread {
            fibre: name,
            colour,
        },
        Some(_) => Ware::Beads {
            fibre: name,
            colour,
            grams: fibre.map_or(0.0, |fibre| fibre.tex.value) * metres / 1000.0,
        },
    }
}

/// Whole put-ups that hold it; what fills one to the last digit needs no second.
pub(super) fn whole(share: f64) -> u32 {
    (share - 1e-9).ceil() as u32
}

/// What to mind of it.
fn note(job: &Job<'_>, want: &Want, bought: (f64, u32), sold: Option<&Stock>) -> String {
    let too_short = sold.filter(|s| s.put_up != PutUp::Metre && s.metres < want.longest);
    let joined = too_short.map(|s| {
        let [longest, has] = [want.longest, s.metres].map(|metres| job.thread(metres));
        let put_up = s.put_up.name();
        format!("one length is {longest} and a {put_up} has {has}: join it inside the cord, one strand at a place")
    });
    let strung = want
        .beads
        .map(|_| "strung on a thread as long as is cut".to_owned());
    let lot = Some(lot(&job.workshop.stock, want, bought)).filter(|lot| !lot.is_empty());
    let all: Vec<String> = [joined, strung, lot].into_iter().flatten().collect();
    all.join("; ")
}

/// What to mind of the dye lot.
fn lot(stock: &[Stock], want: &Want, (there, buy): (f64, u32)) -> String {
    let own =
        |s: &&Stock| s.fibre == want.fibre && s.on_shelf > 0.0 && s.colour == Some(want.colour);
    let mut lots: Vec<&str> = stock.iter().filter(own).map(|s| s.lot.as_str()).collect();
    lots.retain(|lot| !lot.is_empty());
    lots.dedup();
    match (buy, there > 0.0, lots.as_slice()) {
        (0, _, [_, _, ..]) => format!(
            "lots {} lie there: do not mix them in one cord",
            lots.join(", ")
        ),
        (0, ..) => String::new(),
        (_, true, [lot, ..]) => format!("ask for lot {lot}, or buy enough for the whole cord"),
        (_, true, []) => {
            "the lot of what is there is not known: buy enough for the whole cord".into()
        }
        (2.., false, _) => "all of one dye lot".into(),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::plan::trial::{Trial, satin, single};
    use crate::plan::{Plan, plan};

    fn money(text: &str) -> Money {
        Money::read(text, 4).unwrap()
    }

    fn spool(trial: &mut Trial, on_shelf: f64, lot: &str) {
        let part = trial.strands[0].parts[0].clone();
        trial.workshop.stock.push(Stock {
            fibre: part.fibre,
            colour: Some(part.colour),
            put_up: PutUp::Spool,
            metres: 5.0,
            price: Some(money("6.40")),
            on_shelf,
            lot: lot.into(),
        });
    }

    /// 8 × 880 mm with 8 % to spare: 7.6032 m; 2.6 m lie there, so two spools of 5 m.
    #[test]
    fn what_is_needed_less_what_is_there_is_bought_by_the_spool() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.exactly();
        trial.workshop.cutting.sure = 0.5;
        trial.length(450.0);
        spool(&mut trial, 2.6, "");
        let shopping = plan(&trial.job()).shopping;
        let need = &shopping.needs[0];
        assert!((need.needed - 7.6032).abs() < 1e-9, "{}", need.needed);
        assert_eq!((need.there, need.buy), (2.6, 2));
        assert_eq!(need.cost, Some(money("12.80")));
        // 7.6032 / 5 × 6.40 = 9.732096
        assert_eq!(need.used, Some(money("9.73")));
        assert_eq!(shopping.to_pay, money("12.80"));
        assert!(need.note.contains("not known"), "{}", need.note);
    }

    #[test]
    fn the_lot_is_minded_where_thread_of_two_would_meet() {
        let note = |on_shelf: f64, lot: &str| {
            let mut trial = Trial::of(vec![satin(); 8], 1.6);
            trial.length(450.0);
            spool(&mut trial, on_shelf, lot);
            plan(&trial.job()).shopping.needs[0].note.clone()
        };
        assert_eq!(note(20.0, "tide 4"), "");
        assert!(note(2.0, "tide 4").contains("lot tide 4"));
        assert_eq!(note(0.0, "tide 4"), "all of one dye lot");
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        spool(&mut trial, 20.0, "tide 4");
        spool(&mut trial, 20.0, "tide 5");
        assert!(
            plan(&trial.job()).shopping.needs[0]
                .note
                .contains("do not mix")
        );
    }

    #[test]
    fn a_fibre_that_is_not_written_down_has_no_price_and_is_bought_by_the_metre() {
        let trial = Trial::of(vec![satin(); 8], 1.6);
        let shopping = plan(&trial.job()).shopping;
        let need = &shopping.needs[0];
        assert_eq!((need.cost, need.used, need.put_up), (None, None, None));
        assert_eq!(need.buy, need.needed.ceil() as u32);
        assert!(shopping.unpriced >= 1);
        assert_eq!(shopping.to_pay, Money::default());
    }

    /// Beads of 3 mm, 2.25 mm along the string: those that may lie in the cord and no
    /// more, tex 12720 a metre of string.
    #[test]
    fn strings_of_beads_are_counted_and_weighed() {
        let mut trial = Trial::of(vec![single("strung seed beads 8/0, clear glass"); 8], 1.6);
        trial.exactly();
        trial.workshop.cutting.sure = 0.5;
        trial.workshop.cutting.waste = 0.0;
        trial.length(450.0);
        let plan = plan(&trial.job());
        assert_eq!(plan.cut.cuts[0].beads, Some(320));
        let need = &plan.shopping.needs[0];
        assert_eq!((need.needed, need.unit()), (2560.0, "beads"));
        let Ware::Beads { grams, .. } = need.ware else {
            panic!("{:?}", need.ware);
        };
        assert!((grams - 2560.0 * 2.25e-3 * 12.72).abs() < 1e-6, "{grams}");
    }

    #[test]
    fn a_shelf_of_any_colour_is_promised_once() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        for strand in &mut trial.strands[4..] {
            strand.parts[0].colour = Colour::BLACK;
        }
        trial.length(450.0);
        spool(&mut trial, 6.0, "");
        trial.workshop.stock[0].colour = None;
        let needs = plan(&trial.job()).shopping.needs;
        let there: f64 = needs[..2].iter().map(|need| need.there).sum();
        assert!((there - 6.0).abs() < 1e-9, "{there}");
        assert_eq!(needs[0].buy + needs[1].buy, 1);
    }

    fn priced(plan: &Plan) -> Vec<Money> {
        plan.price
            .lines
            .iter()
            .filter_map(|line| line.cost)
            .collect()
    }

    proptest! {
        #[test]
        fn the_parts_of_a_price_are_the_whole_to_the_smallest_unit(
            prices in prop::collection::vec(0_i64..100_000_000, 4),
            places in 0_u8..5,
            percent in (0.0..300.0, 0.0..30.0),
            on_shelf in 0.0..20.0,
            length in 50.0..3000.0,
            cords in 1_u16..5,
        ) {
            let mut trial = Trial::of(vec![satin(); 8], 1.6);
            trial.length(length);
            trial.piece.cords = cords;
            trial.piece.closure.name = "hook".into();
            spool(&mut trial, on_shelf, "");
            let price = |at: usize| Some(Money::new(rust_decimal::Decimal::new(prices[at], 4)));
            trial.workshop.stock[0].price = price(0);
            let sums = &mut trial.workshop.prices;
            (sums.hour, sums.small_things, sums.places) = (price(1), price(2), places);
            (sums.margin, sums.tax) = percent;
            trial.workshop.findings.push(crate::plan::Finding {
                name: "hook".into(),
                kind: crate::plan::FindingKind::Clasp,
                inner: None,
                thickness: None,
                depth: None,
                outer: None,
                adds: 0.0,
                metal: String::new(),
                there: 1,
                price: price(3),
            });
            let plan = plan(&trial.job());
            let sum = plan.price.costs + plan.price.margin + plan.price.tax;
            prop_assert_eq!(sum, plan.price.ask);
            prop_assert_eq!(priced(&plan).into_iter().sum::<Money>(), plan.price.costs);
            let paid = plan.shopping.needs.iter().filter(|need| need.buy > 0);
            prop_assert_eq!(paid.filter_map(|need| need.cost).sum::<Money>(), plan.shopping.to_pay);
            let all = priced(&plan).into_iter().chain([plan.price.margin, plan.price.tax, plan.price.ask]);
            for part in all {
                prop_assert_eq!(part.rounded(places), part);
            }
        }

        #[test]
        fn what_is_bought_is_enough_and_one_less_would_not_be(
            length in 50.0..3000.0, on_shelf in 0.0..30.0,
        ) {
            let mut trial = Trial::of(vec![satin(); 8], 1.6);
            trial.length(length);
            spool(&mut trial, on_shelf, "");
            let need = plan(&trial.job()).shopping.needs[0].clone();
            let has = |spools: u32| need.there + f64::from(spools) * 5.0;
            prop_assert!(has(need.buy) >= need.needed - 1e-6);
            prop_assert!(need.buy == 0 || has(need.buy - 1) < need.needed);
        }
    }
}
