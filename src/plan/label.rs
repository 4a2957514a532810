//! The label for the buyer: what it is made of and how to keep it.

/// Words for a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Fibres by share of mass, largest first, such as "62 % polyester".
    pub fibres: Vec<String>,
    /// Metals of the findings.
    pub metals: Vec<String>,
    /// Latex, dyes, beads: what a buyer may ask after.
    pub remarks: Vec<String>,
    /// How to clean and keep it, by the most delicate of its fibres.
    pub care: Vec<String>,
}
