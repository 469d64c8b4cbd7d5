//! How the order's table was matched, as version 1 of the file holds it.

use super::macros::{record, words};
use crate::{model, units};

words! {
    /// A decimal mark.
    DecimalMark = units::DecimalMark { Point, Comma }
}

words! {
    /// What a column holds.
    OrderColumn = model::OrderColumn { Mark, Section, Steel, Length, Side, Drop, Mass, MassBasis, Nothing }
}

words! {
    /// The unit of a column.
    ColumnUnit = model::ColumnUnit {
        Millimetre, Centimetre, Metre, Foot, Inch, Kilogram, Tonne, Pound, ShortTon, LongTon,
    }
}

record! {
    /// A column that was matched by hand.
    MatchedColumn = model::MatchedColumn {
        header: String = header,
        holds: OrderColumn = holds,
        unit ["Option::is_none"]: Option<ColumnUnit> = unit,
    }
}

record! {
    /// What was said about the order's table.
    #[derive(Default)]
    OrderTable = model::OrderTable {
        decimal ["Option::is_none"]: Option<DecimalMark> = decimal,
        columns ["Vec::is_empty"]: Vec<MatchedColumn> = columns,
    }
}

impl OrderTable {
    /// Whether nothing was said, so that it need not be written.
    pub(crate) fn is_empty(&self) -> bool {
        self.decimal.is_none() && self.columns.is_empty()
    }
}
