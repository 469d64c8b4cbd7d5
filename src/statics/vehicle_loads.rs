//! Loads of one vehicle: supports, axles and wheels, under both assumptions on the sideways moment.

/// Loads of one wheel pair side by side under one assumption, for every axle of a support, in kg.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SideLoads {
    /// Left wheel of each axle in kg.
    pub left_kg: f64,
    /// Right wheel of each axle in kg.
    pub right_kg: f64,
}

impl SideLoads {
    /// Larger over smaller wheel load; infinite where a wheel carries nothing or pulls.
    pub fn ratio(self) -> f64 {
        let (large, small) = (self.left_kg.max(self.right_kg), self.left_kg.min(self.right_kg));
        if small > 0.0 { large / small } else { f64::INFINITY }
    }

    /// The larger wheel load in kg.
    pub fn largest_kg(self) -> f64 {
        self.left_kg.max(self.right_kg)
    }
}

/// Loads of one support: a bogie, or the axle of a two-axle vehicle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SupportLoads {
    /// Tare and load in kg.
    pub load_kg: f64,
    /// Load per axle in kg; axles of a bogie share equally.
    pub axle_kg: f64,
    /// Wheels where a stiff body shares the sideways moment half and half.
    pub stiff: SideLoads,
    /// Wheels where a soft body passes the sideways moment by the lever rule.
    pub soft: SideLoads,
}

impl SupportLoads {
    /// The worse ratio of the two assumptions.
    pub fn worse_ratio(&self) -> f64 {
        self.stiff.ratio().max(self.soft.ratio())
    }

    /// The larger wheel load of the two assumptions in kg.
    pub fn largest_wheel_kg(&self) -> f64 {
        self.stiff.largest_kg().max(self.soft.largest_kg())
    }
}

/// Loads of one vehicle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct VehicleLoads {
    /// Load from strings in kg.
    pub payload_kg: f64,
    /// Tare and load in kg.
    pub gross_kg: f64,
    /// Gross mass over length in kg/m.
    pub mass_per_metre_kg: f64,
    /// Front and rear support.
    pub supports: [SupportLoads; 2],
    /// Height of the gross centre of gravity above the rail in m; none where a height is not entered.
    pub centre_height_m: Option<f64>,
    /// Sideways place of the gross centre in m, right positive.
    pub centre_y_m: f64,
}

impl VehicleLoads {
    /// Larger over smaller support load; infinite where one carries nothing or lifts.
    pub fn support_ratio(&self) -> f64 {
        let [front, rear] = [self.supports[0].load_kg, self.supports[1].load_kg];
        let (large, small) = (front.max(rear), front.min(rear));
        if small > 0.0 { large / small } else { f64::INFINITY }
    }
}
