//! A sum that is shown step by step, each step with its spread.
//!
//! All steps are worked out from one list of inputs, and so is the total: what two
//! steps take from the same input counts once, not as two that might make up for
//! one another.

use crate::quantity::{Estimate, Shown, UnitSystem, propagated, shown_sum};

/// One step of a sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// What it is, in plain words.
    pub name: String,
    /// What it adds, mm; below nought what it takes off.
    pub adds: Estimate,
    /// Why, or what it was worked out from; empty where the name says it.
    pub reason: String,
}

/// A length and the steps that lead to it, mm. The steps add up to the length to
/// the smallest digit.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    /// Step by step.
    pub links: Vec<Link>,
    /// What they come to.
    pub total: Estimate,
}

/// What a step is worth, of the inputs and of the sum before it, mm.
type Worth<'a> = Box<dyn Fn(&[f64], f64) -> f64 + 'a>;

/// A step before it is worked out.
pub(super) struct Step<'a> {
    name: String,
    reason: String,
    worth: Worth<'a>,
}

impl<'a> Step<'a> {
    /// A step worked out from the inputs and from the sum before it.
    pub(super) fn new(
        name: impl Into<String>,
        reason: impl Into<String>,
        worth: impl Fn(&[f64], f64) -> f64 + 'a,
    ) -> Self {
        Self {
            name: name.into(),
            reason: reason.into(),
            worth: Box::new(worth),
        }
    }

    /// A step that is known exactly, mm.
    pub(super) fn exact(name: impl Into<String>, reason: impl Into<String>, mm: f64) -> Self {
        Self::new(name, reason, move |_inputs, _sum| mm)
    }
}

impl Chain {
    /// The steps in order, worked out from these inputs.
    pub(super) fn of(inputs: &[Estimate], steps: &[Step<'_>]) -> Self {
        let worth = |count: usize, at: &[f64]| {
            let (mut sum, mut last) = (0.0, 0.0);
            for step in &steps[..count] {
                last = (step.worth)(at, sum);
                sum += last;
            }
            (sum, last)
        };
        let link = |(place, step): (usize, &Step<'_>)| Link {
            name: step.name.clone(),
            adds: propagated(inputs, |at| worth(place + 1, at).1),
            reason: step.reason.clone(),
        };
        Self {
            links: steps.iter().enumerate().map(link).collect(),
            total: propagated(inputs, |at| worth(steps.len(), at).0),
        }
    }

    /// The links and the total as they are shown, to the same marks, so that the links
    /// add up.
    pub fn shown(&self, units: UnitSystem) -> (Vec<Shown>, Shown) {
        let parts: Vec<Estimate> = self.links.iter().map(|link| link.adds).collect();
        shown_sum(&parts, self.total, units)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_input_that_two_steps_take_is_not_two_inputs() {
        let thickness = Estimate {
            value: 6.0,
            low: 5.0,
            high: 7.0,
        };
        let steps = [
            Step::exact("length", "", 100.0),
            Step::new("wider", "", |x, _| 3.0 * x[0]),
            Step::new("taken back", "", |x, _| -3.0 * x[0]),
            Step::new("half as much again", "", |_, sum| 0.5 * sum),
        ];
        let chain = Chain::of(&[thickness], &steps);
        assert_eq!(chain.total, Estimate::exact(150.0));
        let wider = chain.links[1].adds;
        assert!((wider.low - 15.0).abs() < 1e-9 && (wider.high - 21.0).abs() < 1e-9);
        let worth: Vec<f64> = chain.links.iter().map(|link| link.adds.value).collect();
        assert_eq!(worth, [100.0, 18.0, -18.0, 50.0]);
    }
}
