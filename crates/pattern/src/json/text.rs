//! The text of a value: two spaces a level, and what is short in one line.
//!
//! Invariant: any reader of JSON reads the value back unchanged; members keep their order.

use serde_json::Value;

/// What is not longer than this stands in one line, letters.
const SHORT: usize = 96;

/// A value as text that ends with a line.
pub fn text(value: &Value) -> String {
    let mut out = String::new();
    write(value, 0, &mut out);
    out.push('\n');
    out
}

fn write(value: &Value, level: usize, out: &mut String) {
    match value {
        Value::Array(items) if !is_short(value) => {
            let all_short = items.iter().all(is_short);
            let lines = if all_short { filled(items) } else { Vec::new() };
            if all_short {
                list(lines.iter(), level, out, ['[', ']'], |line, out| {
                    out.push_str(line);
                });
            } else {
                list(items.iter(), level, out, ['[', ']'], |item, out| {
                    write(item, level + 1, out);
                });
            }
        }
        Value::Object(members) if !is_short(value) => {
            list(
                members.iter(),
                level,
                out,
                ['{', '}'],
                |(name, value), out| {
                    out.push_str(&Value::from(name.as_str()).to_string());
                    out.push_str(": ");
                    write(value, level + 1, out);
                },
            );
        }
        _ => out.push_str(&in_one_line(value)),
    }
}

/// Things between brackets, each on a line of its own.
fn list<T>(
    things: impl Iterator<Item = T>,
    level: usize,
    out: &mut String,
    [open, close]: [char; 2],
    mut each: impl FnMut(T, &mut String),
) {
    out.push(open);
    for (index, thing) in things.enumerate() {
        out.push_str(if index == 0 { "\n" } else { ",\n" });
        out.push_str(&"  ".repeat(level + 1));
        each(thing, out);
    }
    out.push('\n');
    out.push_str(&"  ".repeat(level));
    out.push(close);
}

/// Points and numbers fill lines; objects have a line each.
fn filled(items: &[Value]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for item in items {
        let word = in_one_line(item);
        match lines.last_mut() {
            Some(line) if !item.is_object() && line.len() + word.len() + 2 <= SHORT => {
                line.push_str(", ");
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// Whether a value fits in one line: objects only where they hold nothing nested but points.
fn is_short(value: &Value) -> bool {
    room(value, SHORT).is_some()
}

/// What is left of so many letters once a value is written, if it fits. Stops early, so that long lists cost nothing.
fn room(value: &Value, left: usize) -> Option<usize> {
    match value {
        Value::Array(items) => items.iter().try_fold(left.checked_sub(2)?, |left, item| {
            room(item, left)?.checked_sub(2)
        }),
        Value::Object(members) => members
            .iter()
            .try_fold(left.checked_sub(2)?, |left, (name, value)| {
                room(value, left)?.checked_sub(name.len() + 6)
            }),
        Value::String(words) => left.checked_sub(words.len() + 2),
        other => left.checked_sub(other.to_string().len()),
    }
}

fn in_one_line(value: &Value) -> String {
    match value {
        Value::Array(items) => {
            let items: Vec<String> = items.iter().map(in_one_line).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Object(members) => {
            let member = |(name, value): (&String, &Value)| {
                format!("{}: {}", Value::from(name.as_str()), in_one_line(value))
            };
            let members: Vec<String> = members.iter().map(member).collect();
            format!("{{{}}}", members.join(", "))
        }
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn short_things_share_a_line_and_long_ones_do_not() {
        let points: Vec<Value> = (0..12)
            .map(|i| json!([f64::from(i) * 100.0, 0.5]))
            .collect();
        let value = json!({"name": "front", "points_mm": points, "empty": [], "cut": {"count": 1}});
        assert_eq!(
            text(&value),
            "{\n  \"name\": \"front\",\n  \"points_mm\": [\n    [0.0, 0.5], [100.0, 0.5], [200.0, 0.5], [300.0, 0.5], \
             [400.0, 0.5], [500.0, 0.5], [600.0, 0.5],\n    [700.0, 0.5], [800.0, 0.5], [900.0, 0.5], [1000.0, 0.5], \
             [1100.0, 0.5]\n  ],\n  \"empty\": [],\n  \"cut\": {\"count\": 1}\n}\n"
        );
        assert_eq!(serde_json::from_str::<Value>(&text(&value)).unwrap(), value);
    }

    #[test]
    fn words_with_signs_are_read_back() {
        let value = json!({"a \"b\"": "one\ntwo\\ “three” \u{7}".repeat(9)});
        assert_eq!(serde_json::from_str::<Value>(&text(&value)).unwrap(), value);
    }
}
