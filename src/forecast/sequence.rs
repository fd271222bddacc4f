//! Evenly spread points: a Sobol' sequence, shifted by a seed.
//!
//! In: number of a point, seed. Out: a point of the unit cube, and the normal deviate of a coordinate.
//!
//! Direction numbers: Joe and Kuo 2008, SIAM J. Sci. Comput. 30:2635-2654 (file new-joe-kuo-6). Of the
//! first 2^k points every coordinate holds exactly one in each of 2^k equal strata. The seed flips the
//! same bits in all points (digital shift: Dick and Pillichshammer 2010, Digital Nets and Sequences),
//! which keeps that property; adding a number modulo 1 would not.
//!
//! Not here: what a coordinate stands for (`draw`).
//!
//! Tested by: `tests/science/forecast.rs` (scipy.stats.qmc.Sobol, scipy.stats.norm).

/// Coordinates of a point.
pub const DIMENSIONS: usize = 16;
/// Bits of a coordinate.
const BITS: usize = 32;

/// Degree, coefficients and first direction numbers of the second and further coordinates.
const PRIMITIVE: [(usize, u32, [u32; 6]); DIMENSIONS - 1] = [
    (1, 0, [1, 0, 0, 0, 0, 0]),
    (2, 1, [1, 3, 0, 0, 0, 0]),
    (3, 1, [1, 3, 1, 0, 0, 0]),
    (3, 2, [1, 1, 1, 0, 0, 0]),
    (4, 1, [1, 1, 3, 3, 0, 0]),
    (4, 4, [1, 3, 5, 13, 0, 0]),
    (5, 2, [1, 1, 5, 5, 17, 0]),
    (5, 4, [1, 1, 5, 5, 5, 0]),
    (5, 7, [1, 1, 7, 11, 19, 0]),
    (5, 11, [1, 1, 5, 1, 1, 0]),
    (5, 13, [1, 1, 1, 3, 11, 0]),
    (5, 14, [1, 3, 5, 5, 31, 0]),
    (6, 1, [1, 3, 3, 9, 7, 49]),
    (6, 13, [1, 1, 1, 15, 21, 21]),
    (6, 16, [1, 3, 1, 13, 27, 49]),
];

/// The points of one seed.
#[derive(Debug, Clone, PartialEq)]
pub struct Sequence {
    directions: [[u32; BITS]; DIMENSIONS],
    flips: [u32; DIMENSIONS],
}

impl Sequence {
    /// The bare sequence; its first point is the corner.
    pub fn bare() -> Self {
        let mut directions = [[0; BITS]; DIMENSIONS];
        for (bit, value) in directions[0].iter_mut().enumerate() {
            *value = 1 << (BITS - 1 - bit);
        }
        for (values, (degree, coefficients, first)) in directions[1..].iter_mut().zip(PRIMITIVE) {
            for bit in 0..BITS {
                values[bit] = if bit < degree {
                    first[bit] << (BITS - 1 - bit)
                } else {
                    let back = values[bit - degree];
                    (1..degree)
                        .filter(|k| (coefficients >> (degree - 1 - k)) & 1 == 1)
                        .fold(back ^ (back >> degree), |sum, k| sum ^ values[bit - k])
                };
            }
        }
        Self {
            directions,
            flips: [0; DIMENSIONS],
        }
    }

    /// The sequence shifted by a seed.
    pub fn shifted(seed: u64) -> Self {
        let mut state = seed;
        Self {
            flips: std::array::from_fn(|_| {
                // splitmix64: Steele, Lea and Flood 2014, OOPSLA (constants from memory).
                state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
                let mut z = state;
                z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
                z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
                ((z ^ (z >> 31)) >> 32) as u32
            }),
            ..Self::bare()
        }
    }

    /// Bits of point `number`, most significant first, in the order of Gray's code.
    pub fn bits(&self, number: u32) -> [u32; DIMENSIONS] {
        let gray = number ^ (number >> 1);
        std::array::from_fn(|dimension| {
            (0..BITS)
                .filter(|bit| (gray >> bit) & 1 == 1)
                .fold(self.flips[dimension], |sum, bit| {
                    sum ^ self.directions[dimension][bit]
                })
        })
    }

    /// Point `number`, each coordinate between 0 and 1, both left out.
    pub fn point(&self, number: u32) -> [f64; DIMENSIONS] {
        self.bits(number)
            .map(|bits| (f64::from(bits) + 0.5) / 4_294_967_296.0)
    }
}

/// Standard normal deviate below which `share` of all lie.
///
/// `share`: 1e-10 to 1 - 1e-10; beyond that the nearer end counts, so the result is finite.
///
/// Source: Wichura 1988, Applied Statistics 37:477-484 (AS 241, PPND16; coefficients from memory).
/// Checked: `tests/science/forecast.rs`, scipy.stats.norm.ppf, within 1e-13.
pub fn deviate(share: f64) -> f64 {
    const A: [f64; 8] = [
        2.509_080_928_730_122_7e3,
        3.343_057_558_358_813e4,
        6.726_577_092_700_87e4,
        4.592_195_393_154_987e4,
        1.373_169_376_550_946e4,
        1.971_590_950_306_551_3e3,
        1.331_416_678_917_843_8e2,
        3.387_132_872_796_366_5,
    ];
    const B: [f64; 8] = [
        5.226_495_278_852_854e3,
        2.872_908_573_572_194_3e4,
        3.930_789_580_009_271e4,
        2.121_379_430_158_659_7e4,
        5.394_196_021_424_751e3,
        6.871_870_074_920_579e2,
        4.231_333_070_160_091e1,
        1.0,
    ];
    const C: [f64; 8] = [
        7.745_450_142_783_414e-4,
        2.272_384_498_926_918_4e-2,
        2.417_807_251_774_506e-1,
        1.270_458_252_452_368_4,
        3.647_848_324_763_204_5,
        5.769_497_221_460_691,
        4.630_337_846_156_546,
        1.423_437_110_749_683_5,
    ];
    const D: [f64; 8] = [
        1.050_750_071_644_416_9e-9,
        5.475_938_084_995_345e-4,
        1.519_866_656_361_645_7e-2,
        1.481_039_764_274_800_8e-1,
        6.897_673_349_851e-1,
        1.676_384_830_183_803_8,
        2.053_191_626_637_759,
        1.0,
    ];
    let ratio = |above: &[f64], below: &[f64], x: f64| {
        let value = |terms: &[f64]| terms.iter().fold(0.0, |sum, term| sum * x + term);
        value(above) / value(below)
    };
    let share = share.clamp(1e-10, 1.0 - 1e-10);
    let q = share - 0.5;
    if q.abs() <= 0.425 {
        return q * ratio(&A, &B, 0.180_625 - q * q);
    }
    let r = (-share.min(1.0 - share).ln()).sqrt() - 1.6;
    ratio(&C, &D, r).copysign(q)
}
