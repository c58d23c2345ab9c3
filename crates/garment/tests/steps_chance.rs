//! Steps by chance: whatever is asked of whatever pattern, a step gives a sound pattern or says why not.

mod common;

use std::collections::BTreeMap;

use geometry::Angle;
use geometry::simple::is_simple;
use pattern::step::{Along, Arguments, Kind, Parameter, Place, STEPS, StepKind, Usual, Value};
use pattern::{Pattern, Piece};

/// Chance from a seed: Knuth's linear congruential generator (The Art of Computer Programming 2, 3.3.4: MMIX; from memory).
struct Chance(u64);

impl Chance {
    fn unit(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, count: usize) -> usize {
        ((self.unit() * count as f64) as usize).min(count.saturating_sub(1))
    }

    fn one<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}

fn patterns() -> Vec<Pattern> {
    let recipes = [
        common::dress(
            "side",
            "\"straight\" length=\"620 mm\"",
            "sleeve ease=\"60 mm\" cap-ease=\"30 mm\"",
        ),
        common::dress("shoulder", "\"a-line\" length=\"700 mm\"", ""),
        common::dress("waist", "\"gathered\" fullness=2 length=\"600 mm\"", ""),
    ];
    let bodies: Vec<_> = body::population::draw(8, 77)
        .map(|tape| body::complete(&tape))
        .collect();
    bodies
        .iter()
        .flat_map(|body| {
            recipes
                .iter()
                .filter_map(|recipe| garment::make(recipe, body).ok())
        })
        .map(|garment| garment.pattern)
        .collect()
}

fn place(piece: &Piece, chance: &mut Chance) -> Place {
    let edge = chance.one(&piece.edges);
    let at = match chance.below(6) {
        0 => Along::FromStart(chance.unit() * edge.length() * 1.2),
        1 => Along::FromEnd(chance.unit() * edge.length()),
        2 => Along::DartLine(
            piece
                .darts
                .first()
                .map_or("none".into(), |dart| dart.name.clone()),
        ),
        3 => Along::AlongGrain("bust-point".into()),
        _ => Along::Share(chance.unit()),
    };
    match chance.below(12) {
        0 => Place::corner(&piece.name, &edge.name, &chance.one(&piece.edges).name),
        1 => Place::point(&piece.name, "bust-point"),
        _ => Place::on_edge(&piece.name, &edge.name, at),
    }
}

fn within(chance: &mut Chance, least: f64, most: f64) -> f64 {
    // Mostly small, sometimes anything.
    let reach = if chance.below(3) == 0 { 1.0 } else { 0.05 };
    let near = 0.0_f64.clamp(least, most);
    let far = if chance.below(2) == 0 { least } else { most };
    near + (far - near) * chance.unit() * reach
}

fn value(kind: Kind, pattern: &Pattern, piece: &Piece, chance: &mut Chance) -> Option<Value> {
    let named = |name: &str| Some(Value::Named(pattern::step::Named::of(&piece.name, name)));
    match kind {
        Kind::Place => Some(Value::Place(place(piece, chance))),
        Kind::Piece => named(""),
        Kind::Edge => named(&chance.one(&piece.edges).name),
        Kind::Dart if piece.darts.is_empty() => named("none"),
        Kind::Dart => named(&chance.one(&piece.darts).name),
        Kind::Line => named(piece.lines.first().map_or("none", |line| &line.name)),
        Kind::Seam => {
            let seam = chance.one(&pattern.seams);
            Some(Value::Named(pattern::step::Named::of("", &seam.name)))
        }
        Kind::Length(least, most) => Some(Value::Length(within(chance, least, most))),
        Kind::Angle(least, most) => Some(Value::Angle(Angle::from_degrees(within(
            chance, least, most,
        )))),
        Kind::Number(least, most) => Some(Value::Number(within(chance, least, most))),
        Kind::Count(least, most) => Some(Value::Count(
            least + chance.below((most - least) as usize + 1) as u32,
        )),
        Kind::Choice(words) => Some(Value::Choice((*chance.one(words)).into())),
        Kind::Flag => Some(Value::Flag(chance.below(2) == 0)),
        Kind::Text => None,
    }
}

fn arguments(step: &StepKind, pattern: &Pattern, chance: &mut Chance) -> Arguments {
    let piece = chance.one(&pattern.pieces);
    let wanted = |parameter: &&Parameter, chance: &mut Chance| {
        parameter.usual == Usual::Needed || chance.below(2) == 0
    };
    let mut arguments = Arguments::new();
    for parameter in step.parameters {
        if !wanted(&parameter, chance) {
            continue;
        }
        let times = if parameter.many {
            1 + chance.below(2)
        } else {
            1
        };
        for _ in 0..times {
            if let Some(value) = value(parameter.kind, pattern, piece, chance) {
                arguments = arguments.with(parameter.name, value);
            }
        }
    }
    arguments
}

/// What no step may leave behind, in words; nothing where all is well.
fn fault(pattern: &Pattern) -> Option<String> {
    pattern.pieces.iter().find_map(|piece| {
        if !piece.edges.iter().all(|edge| edge.length().is_finite()) {
            return Some(format!("{} has no length", piece.name));
        }
        if !is_simple(&piece.seam_outline()) {
            return Some(format!("{} crosses itself", piece.name));
        }
        piece.darts.iter().find_map(|dart| {
            let [one, other] = piece.legs(dart).lengths();
            let differ = (one - other).abs() > 0.1;
            differ.then(|| format!("{} {} has legs of {one} and {other}", piece.name, dart.name))
        })
    })
}

#[test]
fn chains_of_steps_by_chance_end_sound_or_refused() {
    let mut chance = Chance(20_260_101);
    let mut done: BTreeMap<&str, [u32; 2]> = BTreeMap::new();
    for start in patterns() {
        assert_eq!(fault(&start), None);
        for _ in 0..12 {
            let mut pattern = start.clone();
            for _ in 0..10 {
                let step = *chance.one(STEPS);
                let asked = arguments(step, &pattern, &mut chance);
                let count = done.entry(step.name).or_default();
                match step.run(&pattern, &asked) {
                    Ok(new) => {
                        assert_eq!(fault(&new.pattern), None, "{} of {asked:#?}", step.name);
                        pattern = new.pattern;
                        count[0] += 1;
                    }
                    Err(finding) => {
                        assert!(
                            !finding.message.is_empty() && !finding.cure.is_empty(),
                            "{finding:#?}"
                        );
                        count[1] += 1;
                    }
                }
            }
        }
    }
    for (name, [done, refused]) in &done {
        assert!(
            done + refused > 20,
            "{name} was tried {} times",
            done + refused
        );
    }
    let all: u32 = done.values().map(|[done, _]| done).sum();
    assert!(all > 300, "{done:#?}");
}
