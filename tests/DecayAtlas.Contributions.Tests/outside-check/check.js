// Checks schemas/v1 with the reference implementations of the open standards; see README.md beside this file.
const fs = require('fs');
const path = require('path');
const { Schema, Table, validate } = require('tableschema');
const { Package } = require('datapackage');

const schemas = path.resolve(__dirname, '../../../schemas/v1');
const example = path.join(schemas, 'example');
const document = name => JSON.parse(fs.readFileSync(path.join(schemas, name + '.json'), 'utf8'));
const csv = name => path.join(example, name + '.csv');

async function main() {
  const rowsOf = {};
  for (const name of ['sites', 'lots', 'bags', 'samples']) {
    const schema = document(name);
    const { valid, errors } = await validate(schema);
    if (!valid) throw new Error(`${name}.json: ${errors.map(e => e.message).join('; ')}`);
    await Schema.load(schema, { strict: true });
    const table = await Table.load(csv(name), { schema });
    rowsOf[name] = await (await Table.load(csv(name))).read({ keyed: true });
    const rows = await table.read({ keyed: true, relations: rowsOf });
    console.log(`${name}: schema valid, ${rows.length} example rows valid, keys resolved`);
  }
  // A schema with a fault must not pass, or the check says nothing.
  const spoilt = document('bags');
  spoilt.fields[0].type = 'no-such-type';
  if ((await validate(spoilt)).valid) throw new Error('a spoilt schema passed');

  const descriptor = JSON.parse(fs.readFileSync(path.join(example, 'datapackage.json'), 'utf8'));
  // Our profile is not in the standard's registry: check against the registered tabular profile, with our schemas put in.
  descriptor.profile = 'tabular-data-package';
  for (const resource of descriptor.resources) {
    resource.profile = 'tabular-data-resource';
    resource.schema = document(resource.name);
  }
  const dataPackage = await Package.load(descriptor, { basePath: example });
  if (!dataPackage.valid) throw new Error(dataPackage.errors.map(e => e.message).join('; '));
  for (const resource of dataPackage.resources) {
    if (!await resource.checkRelations()) throw new Error(`${resource.name}: a foreign key is broken`);
  }
  console.log('data package: valid, relations hold');
}

main().catch(fault => { console.error(fault.message); process.exit(1); });
