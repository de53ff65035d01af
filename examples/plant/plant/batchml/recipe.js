// A control recipe as BatchML's ControlRecipe.

const { batchValue, decimal, parameter } = require("./values");

const INPUT = "ProcessInput";
const OUTPUT = "ProcessOutput";
const PARAMETER = "ProcessParameter";
// The members by which the plant names a material.
const NAMES = ["MaterialClassID", "MaterialDefinitionID", "MaterialLotID"];
// The schema's states of a batch for the plant's.
const STATES = { "to make": "Idle", confirmed: "Complete", held: "Held" };

/** A ControlRecipe. A batch whose reading waits to be looked up is running. */
function controlRecipe({ controlRecipes, record, batches }, place) {
  const { header, formula, equipmentRequirements, procedure, otherInformation } = controlRecipes[place];
  const { Value: size, EngineeringUnits: unit } = header.batchSize;
  return {
    ID: header.controlRecipeID,
    VersionDate: record.filed,
    BatchID: header.BatchID,
    Header: {
      ProductID: header.product,
      BatchSize: { Nominal: { "@unitCode": unit, "#": decimal(size) }, UnitOfMeasure: unit },
      Status: STATES[batches[place].status] ?? "Running",
    },
    EquipmentRequirement: equipmentRequirements.map(({ ID }) => ({ ID })),
    Formula: {
      Parameter: [
        ...formula.processInputs.map((one) => material(INPUT, one)),
        ...formula.processParameters.map((one) => parameter(PARAMETER, one)),
        ...formula.processOutputs.map((one) => material(OUTPUT, one)),
        ...equipmentRequirements.map(machine),
      ],
    },
    RecipeElement: procedure.map(unitProcedure),
    OtherInformation: [
      information("calculation", record.calculation),
      information("calculation version", record.version),
      information("work master", header.WorkMasterID[0].ID),
      ...otherInformation.cautions.map(({ code, text }) => information("caution", text, code)),
      ...otherInformation.assumptions.map(({ pointer, text }) => information("assumption", text, pointer)),
    ],
  };
}

const information = (ID, text, Description) => ({
  ID,
  Value: batchValue(text),
  ...(Description ? { Description } : {}),
});

/** A material that goes in or comes out: its quantity, and within it its names. */
function material(type, { Quantity, EngineeringUnits, ...named }) {
  const names = NAMES.filter((name) => named[name] !== undefined);
  return parameter(
    type,
    { ID: named.MaterialLotID ?? named.MaterialDefinitionID, Value: Quantity, EngineeringUnits },
    { within: names.map((ID) => parameter(type, { ID, Value: named[ID] })) },
  );
}

/** What a machine gets of the batch: its properties within a parameter of its name. */
const machine = ({ ID, Properties }) =>
  parameter(
    PARAMETER,
    { ID },
    { subtype: "equipment", within: Properties.map((one) => parameter(PARAMETER, one)) },
  );

const unitProcedure = ({ unitProcedure: Description, operations }, place) => ({
  ID: `unit procedure ${place + 1}`,
  Description,
  RecipeElementType: "UnitProcedure",
  RecipeElement: operations.map((one, within) => operation(one, `${place + 1}.${within + 1}`)),
});

const operation = ({ operation: Description, equipment, phases }, number) => ({
  ID: `operation ${number}`,
  Description,
  RecipeElementType: "Operation",
  ...requires(equipment),
  RecipeElement: phases.map(phase),
});

/** A phase: its name is that of the building block that it is made from, its instruction the description. */
const phase = (step) => ({
  ID: `step ${step.sequence}`,
  Description: step.instruction,
  RecipeElementType: "Phase",
  BuildingBlockElementID: step.phase,
  ...requires(step.equipment),
  Parameter: [
    ...(step.material === undefined ? [] : [parameter(INPUT, { ID: "material", Value: step.material })]),
    ...step.parameters.map((one) => parameter(PARAMETER, one)),
    ...(step.check ?? []).map((one) => parameter(PARAMETER, one, { subtype: "check" })),
  ],
  ...(step.noMarks ? { OtherInformation: information("no marks", step.noMarks) } : {}),
});

const requires = (equipment) => (equipment === undefined ? {} : { EquipmentRequirement: { ID: equipment } });

module.exports = { NAMES, controlRecipe };
