//! What can hurt, said where it arises.
//!
//! The program advises; local rules and a measured sample come first.

/// Where a caution is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Where {
    /// With the ends and findings.
    Ends,
    /// With the wearer and the kind of piece.
    Wearer,
    /// With what is cut and bought.
    Material,
    /// With the work of the hands.
    Work,
}

/// One caution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// Where it arises.
    pub place: Where,
    /// What may happen, one short sentence.
    pub what: String,
    /// What to do about it.
    pub advice: String,
    /// The standard or rule, by its name; empty for common practice.
    pub rule: &'static str,
}
