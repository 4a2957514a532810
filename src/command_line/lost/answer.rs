//! The answer of `lost`, as text and as JSON.

use serde::Serialize;

use crate::bench::{Diagnosis, Explanation};
use crate::structure::{Move, MoveList, Numbering};

/// So many explanations are printed; the JSON has all.
const PRINTED: usize = 5;

/// The answer of `lost --json`, in this order.
#[derive(Serialize)]
pub(super) struct Answer {
    /// Moves that were counted.
    counted: u64,
    /// The likeliest first.
    explanations: Vec<Explained>,
    /// Probability that it was none of these.
    other: f64,
    question: Option<Asked>,
}

#[derive(Serialize)]
struct Explained {
    /// From 0 to 1.
    probability: f64,
    sentence: String,
    /// Moves that lie in the cord, mistakes aside.
    done: u64,
    way: Back,
    /// How just going on would be regular; null if it would not, or nothing is wrong.
    going_on: Option<On>,
}

#[derive(Serialize)]
struct Back {
    /// Motions in order, each of one or more moves.
    steps: Vec<Vec<Carried>>,
    /// Moves that lie in the cord then.
    lands: u64,
}

#[derive(Serialize)]
struct Carried {
    from: String,
    to: String,
}

#[derive(Serialize)]
struct On {
    done: u64,
    roles: Vec<usize>,
}

#[derive(Serialize)]
struct Asked {
    question: String,
    answers: Vec<Says>,
}

#[derive(Serialize)]
struct Says {
    answer: String,
    /// Explanations it speaks for, counted from 0.
    explanations: Vec<usize>,
}

impl Answer {
    pub(super) fn of(
        diagnosis: &Diagnosis,
        counted: u64,
        list: &MoveList,
        numbering: Numbering,
        names: &[String],
    ) -> Self {
        let explained = |one: &Explanation| explained(one, list, numbering);
        let question = diagnosis.question.as_ref().map(|question| Asked {
            question: question.words(list, numbering),
            answers: question
                .answers
                .iter()
                .map(|answer| Says {
                    answer: answer.words(list, numbering, names),
                    explanations: answer.explanations.clone(),
                })
                .collect(),
        });
        Self {
            counted,
            explanations: diagnosis.explanations.iter().map(explained).collect(),
            other: diagnosis.other,
            question,
        }
    }

    /// As text: what may have happened, what to check, the way back.
    pub(super) fn text(&self) -> String {
        let mut lines = vec![format!(
            "Counted {} moves. What may have happened (probabilities rest on our guess of how \
             often hands go wrong):",
            self.counted
        )];
        for (number, one) in (1..).zip(self.explanations.iter().take(PRINTED)) {
            lines.push(format!(
                "{number}. {}  {}",
                percent(one.probability),
                one.sentence
            ));
            lines.push(format!("   {}", one.way.words()));
            if let Some(on) = &one.going_on {
                let done = on.done;
                lines.push(format!(
                    "   Or just go on as after move {done}: regular from here, with this one fault."
                ));
            }
        }
        let more = self.explanations.iter().skip(PRINTED);
        let more: f64 = more.map(|one| one.probability).sum();
        lines.push(format!("Others listed with --json: {}.", percent(more)));
        lines.push(format!("None of these: {}.", percent(self.other)));
        if let Some(asked) = &self.question {
            lines.push(format!("To tell which: {}", asked.question));
            lines.extend(asked.answers.iter().map(Says::words));
        }
        lines.join("\n")
    }
}

impl Says {
    fn words(&self) -> String {
        let numbers = self.explanations.iter().map(|one| (one + 1).to_string());
        let numbers: Vec<String> = numbers.collect();
        match numbers.is_empty() {
            true => format!("   {}: none of these", self.answer),
            false => format!("   {}: {}", self.answer, numbers.join(", ")),
        }
    }
}

impl Back {
    fn words(&self) -> String {
        if self.steps.is_empty() {
            return format!("Nothing to undo: go on with move {}.", self.lands + 1);
        }
        let step = |step: &Vec<Carried>| {
            let moves = step.iter().map(|one| format!("{} → {}", one.from, one.to));
            moves.collect::<Vec<_>>().join(" and ")
        };
        let steps: Vec<String> = self.steps.iter().map(step).collect();
        let next = self.lands + 1;
        format!(
            "Way back: {}; then go on with move {next}.",
            steps.join(", ")
        )
    }
}

fn percent(probability: f64) -> String {
    match 100.0 * probability {
        small if small < 0.5 => "under 1 %".to_owned(),
        large if large > 99.5 => "over 99 %".to_owned(),
        between => format!("{between:.0} %"),
    }
}

fn explained(one: &Explanation, list: &MoveList, numbering: Numbering) -> Explained {
    let carried = |carried: &Move| Carried {
        from: list.label(carried.from, numbering),
        to: list.label(carried.to, numbering),
    };
    let steps = one.way.steps.iter();
    Explained {
        probability: one.probability,
        sentence: one.sentence(list, numbering),
        done: one.done,
        way: Back {
            steps: steps
                .map(|step| step.moves.iter().map(carried).collect())
                .collect(),
            lands: one.way.lands,
        },
        going_on: one.going_on.as_ref().map(|on| On {
            done: on.done,
            roles: on.roles.clone(),
        }),
    }
}
