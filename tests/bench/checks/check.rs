//! One figure beside its published value.

/// What was found where something is known.
#[derive(Debug, Clone)]
pub(crate) struct Check {
    /// What is looked at.
    pub name: String,
    /// Who says what it ought to be.
    pub source: &'static str,
    pub published: f64,
    /// Found, once or by two measures.
    pub found: Vec<f64>,
    /// How far off it may be.
    pub goal: Goal,
}

/// A miss that is still good.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Goal {
    /// A share of the published value.
    Share(f64),
    /// In the unit of the figure itself.
    Plain(f64),
}

impl Check {
    /// The worst miss, in the measure of the goal.
    pub(crate) fn miss(&self) -> f64 {
        let one = |found: &f64| match self.goal {
            Goal::Share(_) => found / self.published - 1.0,
            Goal::Plain(_) => found - self.published,
        };
        let misses = self.found.iter().map(one);
        misses.fold(0.0, |worst, miss| {
            if miss.is_nan() || miss.abs() > f64::abs(worst) {
                miss
            } else {
                worst
            }
        })
    }

    /// Whether all that was found is near enough.
    pub(crate) fn is_met(&self) -> bool {
        let (Goal::Share(most) | Goal::Plain(most)) = self.goal;
        self.miss().abs() <= most
    }

    /// A row of a table in Markdown: name, source, published, found, miss, goal, verdict.
    pub(crate) fn row(&self) -> String {
        let found: Vec<String> = self.found.iter().map(|f| format!("{f:.4}")).collect();
        let (miss, goal) = match self.goal {
            Goal::Share(most) => (
                format!("{:+.3} %", 100.0 * self.miss()),
                format!("{} %", 100.0 * most),
            ),
            Goal::Plain(most) => (format!("{:+.3}", self.miss()), format!("{most}")),
        };
        format!(
            "| {} | {} | {:.4} | {} | {miss} | {goal} | {} |",
            self.name,
            self.source,
            self.published,
            found.join(", "),
            if self.is_met() { "met" } else { "**missed**" }
        )
    }
}
