//! Which layouts, and how often each: the linear program over the layouts known.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

/// A layout as the programs see it.
pub(crate) trait Column {
    /// Index of its stock.
    fn stock(&self) -> usize;
    /// How many of every item lie on it.
    fn counts(&self) -> &[u32];
}

/// What is asked of the programs.
#[derive(Debug)]
pub(crate) struct Master {
    /// How many of every item are needed.
    pub demand: Vec<u32>,
    /// What one sheet of every stock weighs in the objective.
    pub weight: Vec<f64>,
    /// How many sheets of every stock there are.
    pub limit: Vec<Option<u32>>,
    /// What one part weighs that lies on no sheet: more than any sheet it could lie on.
    pub missing: Vec<f64>,
}

/// What a part is worth, and what one more sheet of a stock would be worth: solution of the dual.
#[derive(Debug, Clone)]
pub(crate) struct Worth {
    /// Per item, at least 0.
    pub items: Vec<f64>,
    /// Per stock, at least 0; 0 where there is enough.
    pub stock: Vec<f64>,
}

impl Master {
    /// The same with other needs and other stock.
    pub(crate) fn less(&self, demand: Vec<u32>, limit: Vec<Option<u32>>) -> Self {
        let (weight, missing) = (self.weight.clone(), self.missing.clone());
        Master { demand, weight, limit, missing }
    }

    /// What parts are worth under the linear program over these layouts. The library gives no
    /// duals, so the dual program is solved in its own right. None where the solver fails.
    pub(crate) fn worth<C: Column>(&self, columns: &[C]) -> Option<Worth> {
        let mut dual = Problem::new(OptimizationDirection::Maximize);
        let items: Vec<Variable> = std::iter::zip(&self.demand, &self.missing)
            .map(|(demand, most)| dual.add_var(f64::from(*demand), (0.0, *most)))
            .collect();
        let stock: Vec<Option<Variable>> = self
            .limit
            .iter()
            .map(|limit| limit.map(|n| dual.add_var(-f64::from(n), (0.0, f64::INFINITY))))
            .collect();
        for column in columns {
            let counts = std::iter::zip(&items, column.counts()).filter(|(_, n)| 0 < **n);
            let mut row: Vec<(Variable, f64)> = counts.map(|(v, n)| (*v, f64::from(*n))).collect();
            row.extend(stock[column.stock()].map(|v| (v, -1.0)));
            dual.add_constraint(&row, ComparisonOp::Le, self.weight[column.stock()]);
        }
        let solution = dual.solve().ok()?.into_solution().ok()?;
        let value = |v: &Variable| solution.var_value(*v).max(0.0);
        Some(Worth {
            items: items.iter().map(value).collect(),
            stock: stock.iter().map(|v| v.as_ref().map_or(0.0, value)).collect(),
        })
    }

    /// How often each layout is cut by the linear program itself, in fractions. None where the
    /// solver fails.
    pub(crate) fn shares<C: Column>(&self, columns: &[C]) -> Option<Vec<f64>> {
        let mut program = Problem::new(OptimizationDirection::Minimize);
        let copies = self.rows(columns, &mut program);
        let solution = program.solve().ok()?.into_solution().ok()?;
        Some(copies.iter().map(|v| solution.var_value(*v).max(0.0)).collect())
    }

    /// A variable for every column, and the rows: enough of every item, no more sheets than there
    /// are.
    fn rows<C: Column>(&self, columns: &[C], program: &mut Problem) -> Vec<Variable> {
        let weights = columns.iter().map(|column| self.weight[column.stock()]);
        let copies: Vec<Variable> =
            weights.map(|weight| program.add_var(weight, (0.0, f64::INFINITY))).collect();
        for (item, demand) in self.demand.iter().enumerate().filter(|(_, n)| 0 < **n) {
            let holding = std::iter::zip(&copies, columns).filter(|(_, c)| 0 < c.counts()[item]);
            let mut row: Vec<(Variable, f64)> =
                holding.map(|(v, c)| (*v, f64::from(c.counts()[item]))).collect();
            row.push((program.add_var(self.missing[item], (0.0, f64::INFINITY)), 1.0));
            program.add_constraint(&row, ComparisonOp::Ge, f64::from(*demand));
        }
        for (stock, limit) in self.limit.iter().enumerate() {
            let of = std::iter::zip(&copies, columns).filter(|(_, c)| c.stock() == stock);
            let row: Vec<(Variable, f64)> = of.map(|(v, _)| (*v, 1.0)).collect();
            if let (Some(limit), false) = (limit, row.is_empty()) {
                program.add_constraint(&row, ComparisonOp::Le, f64::from(*limit));
            }
        }
        copies
    }
}
