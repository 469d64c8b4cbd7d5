//! Puts numbers into the formulas of workings: a reader of arithmetic that shares nothing with the program.

use longstow::working::WorkingStep;
use std::collections::BTreeMap;

/// A value, and the size of the terms that it was made of: what rounding is measured against.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reckoned {
    pub(crate) value: f64,
    pub(crate) size: f64,
}

/// What the step's formula gives with the step's own inputs and table.
pub(crate) fn reckon(step: &WorkingStep) -> Result<Reckoned, String> {
    let mut known = BTreeMap::new();
    for input in &step.inputs {
        if known
            .insert(input.symbol.clone(), input.value.value)
            .is_some_and(|old| old.to_bits() != input.value.value.to_bits())
        {
            return Err(format!("{} has two values", input.symbol));
        }
    }
    let mut rows: Vec<BTreeMap<String, f64>> = Vec::new();
    if let Some(table) = &step.table {
        for row in &table.rows {
            if row.values.len() != table.columns.len() {
                return Err(format!("row {} has other columns", row.name));
            }
            let mut known = known.clone();
            for (column, value) in table.columns.iter().zip(&row.values) {
                known.insert(column.symbol.clone(), value.value);
            }
            rows.push(known);
        }
    }
    let mut reader = Reader { rest: &step.formula, known: &known, rows: &rows };
    let value = reader.sum()?;
    match reader.rest.trim() {
        "" => Ok(value),
        rest => Err(format!("\"{rest}\" is left over in \"{}\"", step.formula)),
    }
}

struct Reader<'a> {
    rest: &'a str,
    known: &'a BTreeMap<String, f64>,
    rows: &'a [BTreeMap<String, f64>],
}

fn exact(value: f64) -> Reckoned {
    Reckoned { value, size: value.abs() }
}

impl<'a> Reader<'a> {
    fn peek(&mut self) -> Option<char> {
        self.rest = self.rest.trim_start();
        self.rest.chars().next()
    }

    fn take(&mut self, wanted: char) -> bool {
        let there = self.peek() == Some(wanted);
        if there {
            self.rest = &self.rest[wanted.len_utf8()..];
        }
        there
    }

    fn need(&mut self, wanted: char) -> Result<(), String> {
        if self.take(wanted) { Ok(()) } else { Err(format!("no {wanted} before \"{}\"", self.rest)) }
    }

    fn sum(&mut self) -> Result<Reckoned, String> {
        let mut total = self.product()?;
        loop {
            let sign = if self.take('+') {
                1.0
            } else if self.take('-') {
                -1.0
            } else {
                return Ok(total);
            };
            let next = self.product()?;
            total = Reckoned { value: total.value + sign * next.value, size: total.size + next.size };
        }
    }

    fn product(&mut self) -> Result<Reckoned, String> {
        let mut total = self.sign()?;
        loop {
            if self.take('*') {
                let next = self.sign()?;
                let size = total.size * next.size;
                total = Reckoned { value: total.value * next.value, size };
            } else if self.take('/') {
                let next = self.sign()?;
                let size = total.size / next.value.abs();
                total = Reckoned { value: total.value / next.value, size };
            } else {
                return Ok(total);
            }
        }
    }

    fn sign(&mut self) -> Result<Reckoned, String> {
        if self.take('-') {
            let value = self.sign()?;
            return Ok(Reckoned { value: -value.value, size: value.size });
        }
        let base = self.atom()?;
        if self.take('^') {
            let power = self.atom()?;
            return Ok(Reckoned { value: base.value.powf(power.value), size: base.size.powf(power.value) });
        }
        Ok(base)
    }

    fn atom(&mut self) -> Result<Reckoned, String> {
        if self.take('(') {
            let value = self.sum()?;
            self.need(')')?;
            return Ok(value);
        }
        let first = self.peek().ok_or("a formula ends early")?;
        let end = |rest: &str, part: fn(char) -> bool| rest.find(|c| !part(c)).unwrap_or(rest.len());
        if first.is_ascii_digit() {
            let (number, rest) = self.rest.split_at(end(self.rest, |c| c.is_ascii_digit() || c == '.'));
            self.rest = rest;
            return number.parse().map(exact).map_err(|_| format!("{number} is no number"));
        }
        let (name, rest) = self.rest.split_at(end(self.rest, |c| c.is_ascii_alphanumeric() || c == '_'));
        self.rest = rest;
        if self.take('(') {
            return self.function(name);
        }
        let value = self.known.get(name).copied();
        value.map(exact).ok_or(format!("there is no {name}"))
    }

    fn function(&mut self, name: &str) -> Result<Reckoned, String> {
        if matches!(name, "sum" | "largest" | "least") {
            return self.over_rows(name);
        }
        let mut values = vec![self.sum()?];
        while self.take(',') {
            values.push(self.sum()?);
        }
        self.need(')')?;
        let size = values.iter().map(|value| value.size).fold(0.0, f64::max);
        let all = values.iter().map(|value| value.value);
        let value = match (name, values.as_slice()) {
            ("abs", [value]) => value.value.abs(),
            ("sqrt", [value]) => return Ok(Reckoned { value: value.value.sqrt(), size: value.size.sqrt() }),
            ("max", _) => all.fold(f64::NEG_INFINITY, f64::max),
            ("min", _) => all.fold(f64::INFINITY, f64::min),
            _ => return Err(format!("{name} is no function of {} values", values.len())),
        };
        Ok(Reckoned { value, size })
    }

    fn over_rows(&mut self, name: &str) -> Result<Reckoned, String> {
        let start = self.rest;
        let mut values = Vec::new();
        for known in self.rows {
            let mut reader = Reader { rest: start, known, rows: &[] };
            values.push(reader.sum()?);
            self.rest = reader.rest;
        }
        if self.rows.is_empty() {
            let close = start.find(')').ok_or("a bracket stays open")?;
            let inner = &start[..close];
            // Over no rows it does not matter what is summed, as long as the brackets close.
            let depth = inner.matches('(').count();
            let mut at = close;
            for _ in 0..depth {
                at += 1 + start[at + 1..].find(')').ok_or("a bracket stays open")?;
            }
            self.rest = &start[at..];
        }
        self.need(')')?;
        let size = values.iter().map(|value| value.size);
        let all = values.iter().map(|value| value.value);
        Ok(match name {
            "sum" => Reckoned { value: all.sum(), size: size.sum() },
            "largest" => Reckoned { value: all.fold(0.0, f64::max), size: size.fold(0.0, f64::max) },
            _ => Reckoned { value: all.fold(f64::INFINITY, f64::min), size: size.fold(0.0, f64::max) },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use longstow::units::Quantity;
    use longstow::working::{Origin, WorkingRow};

    fn check(formula: &str, expected: f64) {
        let row = |a: f64, b: f64| WorkingRow {
            name: String::new(),
            values: vec![Quantity::number(a), Quantity::number(b)],
            figure: None,
        };
        let step = WorkingStep::new(("r", "result"), Quantity::number(0.0), formula)
            .with(("x", "three"), Quantity::number(3.0), Origin::Here)
            .with(("y2", "minus four"), Quantity::number(-4.0), Origin::Here)
            .over(&[("F", ""), ("d", "")], vec![row(1.0, 10.0), row(2.0, 20.0)]);
        let value = reckon(&step).unwrap().value;
        assert!((value - expected).abs() < 1.0e-12, "{formula}: {value}");
    }

    #[test]
    fn formulas_are_read_as_people_read_them() {
        check("2 + 3 * 4", 14.0);
        check("(2 + 3) * 4 / 2", 10.0);
        check("-x^2", -9.0);
        check("x - y2 - 1", 6.0);
        check("12 / 2 / 3", 2.0);
        check("max(1, x, y2) + min(x, y2) + abs(y2) + sqrt(4)", 5.0);
        check("sum(F * d) + x", 53.0);
        check("largest(abs(F)) + least(d)", 12.0);
    }

    #[test]
    fn what_is_no_formula_is_refused() {
        let refused =
            |formula: &str| reckon(&WorkingStep::new(("r", ""), Quantity::number(0.0), formula)).unwrap_err();
        assert_eq!(refused("1 +"), "a formula ends early");
        assert_eq!(refused("1 2"), "\"2\" is left over in \"1 2\"");
        assert_eq!(refused("z"), "there is no z");
        assert!(refused("(1").contains("no )"));
    }
}
