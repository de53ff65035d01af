// The smallest parts of BatchML: values, parameters and entries of a record, as objects whose members stand in the
// order in which the schema wants its elements.

const NAMESPACE = "http://www.mesa.org/xml/B2MML";
// The code of Recommendation 20 for numbers without a unit: one.
const ONE = "C62";

const dataType = (value) => (typeof value === "number" ? "double" : "string");
const unitOf = (value, unit) => unit ?? (typeof value === "number" ? ONE : "");

/** A value of a recipe (BatchValueType). */
const batchValue = (value, unit) => ({
  ValueString: String(value),
  DataInterpretation: "Constant",
  DataType: dataType(value),
  UnitOfMeasure: unitOf(value, unit),
});

/** A value of a record (ValueType): what it is of is its key. */
const value = (Key, of, unit) => ({
  ValueString: String(of),
  DataType: dataType(of),
  UnitOfMeasure: unitOf(of, unit),
  Key,
});

/** A parameter (BatchParameterType) from `{ ID, Value, EngineeringUnits }`, with parameters of its own. */
const parameter = (ParameterType, { ID, Value, EngineeringUnits }, { subtype, within = [] } = {}) => ({
  ID,
  ParameterType,
  ParameterSubType: subtype,
  Value: Value === undefined ? undefined : batchValue(Value, EngineeringUnits),
  Parameter: within,
});

/** A number of the schema's decimal type, which has no exponents. */
function decimal(number) {
  const text = String(number);
  if (!text.includes("e")) return text;
  // 17 digits give the same number back.
  return number.toLocaleString("en", { useGrouping: false, maximumSignificantDigits: 17 });
}

/** What every entry of a batch production record begins with. `reference` is its identity elsewhere. */
const entry = (EntryID, ObjectType, TimeStamp, reference) => ({
  EntryID,
  ObjectType,
  TimeStamp,
  ExternalReference: reference,
});

module.exports = { NAMESPACE, batchValue, decimal, entry, parameter, value };
