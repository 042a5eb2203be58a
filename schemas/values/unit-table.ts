/** What a quantity measures. Lengths of parts and distances driven are kept apart: mixing them up is always a slip. */
export type Dimension =
  | 'volume'
  | 'flow'
  | 'length'
  | 'distance'
  | 'temperature'
  | 'pressure'
  | 'torque'
  | 'mass'
  | 'time'
  | 'rotation'
  | 'angle'
  | 'voltage'
  | 'current'
  | 'resistance'
  | 'concentration'
  | 'count';

export interface UnitRow {
  readonly id: string;
  readonly name: string;
  readonly also?: string;
  readonly symbol?: string;
  readonly shift?: string;
  readonly times: string;
  readonly over?: string;
  readonly code?: string;
}

// One pound-force in newtons: 0.45359237 kg × 9.80665 m/s².
const POUND_FORCE = '4.4482216152605';

/*
 * Factors are the definitions of NIST SP 811 appendix B and NIST Handbook 44 appendix C: inch, pound, US gallon and
 * imperial gallon are exact by definition, and the rest follows from them. Inch of mercury is the conventional one,
 * 25.4 × 133.322387415 Pa. Codes of Recommendation 20 are from memory.
 */
export const UNIT_ROWS: Readonly<Record<Dimension, readonly UnitRow[]>> = {
  volume: [
    {
      id: 'qt',
      name: 'US quart',
      also: 'quart,quarts,qts,US qt,US quart',
      times: '0.946352946',
      code: 'QTL',
    },
    { id: 'L', name: 'liter', also: 'liter,liters,litre,litres,ltr', times: '1', code: 'LTR' },
    {
      id: 'gal',
      name: 'US gallon',
      also: 'gallon,gallons,US gal,US gallon',
      times: '3.785411784',
      code: 'GLL',
    },
    { id: 'pt', name: 'US pint', also: 'pint,pints,US pt,US pint', times: '0.473176473', code: 'PTL' },
    {
      id: 'fl oz',
      name: 'US fluid ounce',
      also: 'floz,fluid ounce,fluid ounces,US fl oz',
      times: '0.0295735295625',
      code: 'OZA',
    },
    {
      id: 'tbsp',
      name: 'US tablespoon',
      also: 'tablespoon,tablespoons',
      times: '0.01478676478125',
      code: 'G24',
    },
    {
      id: 'mL',
      name: 'milliliter',
      also: 'milliliter,milliliters,millilitre,millilitres',
      times: '0.001',
      code: 'MLT',
    },
    { id: 'cc', name: 'cubic centimeter', also: 'cm3,cm³', times: '0.001', code: 'CMQ' },
    {
      id: 'imp gal',
      name: 'imperial gallon',
      also: 'imperial gallon,imperial gallons,UK gal',
      times: '4.54609',
      code: 'GLI',
    },
    {
      id: 'imp qt',
      name: 'imperial quart',
      also: 'imperial quart,imperial quarts,UK qt',
      times: '1.1365225',
      code: 'QTI',
    },
    {
      id: 'imp pt',
      name: 'imperial pint',
      also: 'imperial pint,imperial pints,UK pt',
      times: '0.56826125',
      code: 'PTI',
    },
    {
      id: 'imp fl oz',
      name: 'imperial fluid ounce',
      also: 'imperial fluid ounce,UK fl oz',
      times: '0.0284130625',
      code: 'OZI',
    },
  ],
  flow: [
    {
      id: 'gal/min',
      name: 'US gallon per minute',
      also: 'gpm,US gal/min,gallons per minute',
      times: '3.785411784',
      code: 'G2',
    },
    { id: 'qt/min', name: 'US quart per minute', also: 'qpm,quarts per minute', times: '0.946352946' },
    {
      id: 'L/min',
      name: 'liter per minute',
      also: 'lpm,liters per minute,litres per minute',
      times: '1',
      code: 'L2',
    },
    { id: 'imp gal/min', name: 'imperial gallon per minute', also: 'imp gpm', times: '4.54609', code: 'G3' },
    { id: 'qt/s', name: 'US quart per second', also: 'qt/sec', times: '56.78117676' },
    { id: 'L/s', name: 'liter per second', also: 'L/sec', times: '60' },
    { id: 'mL/min', name: 'milliliter per minute', also: 'cc/min', times: '0.001' },
  ],
  length: [
    { id: 'in', name: 'inch', also: 'inch,inches,",″,”', times: '25.4', code: 'INH' },
    {
      id: 'mm',
      name: 'millimeter',
      also: 'millimeter,millimeters,millimetre,millimetres',
      times: '1',
      code: 'MMT',
    },
    { id: 'ft', name: 'foot', also: 'foot,feet', times: '304.8', code: 'FOT' },
    {
      id: 'cm',
      name: 'centimeter',
      also: 'centimeter,centimeters,centimetre,centimetres',
      times: '10',
      code: 'CMT',
    },
    { id: 'm', name: 'meter', also: 'meter,meters,metre,metres', times: '1000', code: 'MTR' },
    { id: 'thou', name: 'thousandth of an inch', also: 'mil,mils,thousandths', times: '0.0254', code: '77' },
    {
      id: 'µm',
      name: 'micrometer',
      also: 'um,micron,microns,micrometer,micrometers',
      times: '0.001',
      code: '4H',
    },
  ],
  distance: [
    { id: 'mi', name: 'mile', also: 'mile,miles', times: '1.609344', code: 'SMI' },
    {
      id: 'km',
      name: 'kilometer',
      also: 'kilometer,kilometers,kilometre,kilometres',
      times: '1',
      code: 'KMT',
    },
  ],
  temperature: [
    {
      id: 'F',
      symbol: '°F',
      name: 'degree Fahrenheit',
      also: 'deg F,degrees F,fahrenheit',
      shift: '-32',
      times: '5',
      over: '9',
      code: 'FAH',
    },
    {
      id: 'C',
      symbol: '°C',
      name: 'degree Celsius',
      also: 'deg C,degrees C,celsius',
      times: '1',
      code: 'CEL',
    },
  ],
  pressure: [
    {
      id: 'psi',
      name: 'pound-force per square inch',
      also: 'psig,lbf/in²,lb/in²',
      times: POUND_FORCE,
      over: '0.64516',
      code: 'PS',
    },
    { id: 'kPa', name: 'kilopascal', times: '1', code: 'KPA' },
    { id: 'bar', name: 'bar', also: 'bars', times: '100', code: 'BAR' },
    {
      id: 'in-Hg',
      symbol: 'inHg',
      name: 'inch of mercury',
      also: 'inHg,inches of mercury,"Hg',
      times: '3.386388640341',
      code: 'F79',
    },
    { id: 'MPa', name: 'megapascal', times: '1000', code: 'MPA' },
    {
      id: 'kgf/cm²',
      name: 'kilogram-force per square centimeter',
      also: 'kgf/cm2,kg/cm2,kg/cm²',
      times: '98.0665',
      code: 'E42',
    },
  ],
  torque: [
    {
      id: 'lb-ft',
      symbol: 'lb·ft',
      name: 'pound-force foot',
      also: 'ft-lb,lb-fts,ft-lbs,lbf-ft,ft-lbf,foot-pounds,pound-feet',
      times: '1.3558179483314004',
      code: 'M92',
    },
    {
      id: 'N·m',
      name: 'newton meter',
      also: 'Nm,newton meter,newton meters,newton metres',
      times: '1',
      code: 'NU',
    },
    {
      id: 'lb-in',
      symbol: 'lb·in',
      name: 'pound-force inch',
      also: 'in-lb,lbs-in,in-lbs,lbf-in,in-lbf,inch-pounds,pound-inches',
      times: '0.1129848290276167',
      code: 'F21',
    },
    { id: 'kgf·m', name: 'kilogram-force meter', also: 'kgm,kg-m', times: '9.80665', code: 'B38' },
  ],
  mass: [
    { id: 'lb', name: 'pound', also: 'lbs,pound,pounds', times: '0.45359237', code: 'LBR' },
    { id: 'kg', name: 'kilogram', also: 'kilogram,kilograms', times: '1', code: 'KGM' },
    { id: 'oz', name: 'ounce', also: 'ounce,ounces', times: '0.028349523125', code: 'ONZ' },
    { id: 'g', name: 'gram', also: 'gram,grams', times: '0.001', code: 'GRM' },
    { id: 'mg', name: 'milligram', also: 'milligram,milligrams', times: '0.000001', code: 'MGM' },
  ],
  time: [
    { id: 'h', name: 'hour', also: 'hr,hrs,hour,hours', times: '3600', code: 'HUR' },
    { id: 'min', name: 'minute', also: 'mins,minute,minutes', times: '60', code: 'MIN' },
    { id: 's', name: 'second', also: 'sec,secs,second,seconds', times: '1', code: 'SEC' },
    { id: 'd', name: 'day', also: 'day,days', times: '86400', code: 'DAY' },
  ],
  rotation: [{ id: 'rpm', name: 'revolution per minute', also: 'r/min,rev/min', times: '1', code: 'RPM' }],
  angle: [{ id: 'deg', symbol: '°', name: 'degree', also: '°,degree,degrees', times: '1', code: 'DD' }],
  voltage: [
    { id: 'V', name: 'volt', also: 'volt,volts', times: '1', code: 'VLT' },
    { id: 'mV', name: 'millivolt', also: 'millivolt,millivolts', times: '0.001', code: '2Z' },
  ],
  current: [
    { id: 'A', name: 'ampere', also: 'amp,amps,ampere,amperes', times: '1', code: 'AMP' },
    { id: 'mA', name: 'milliampere', also: 'milliamp,milliamps', times: '0.001', code: '4K' },
  ],
  resistance: [
    { id: 'ohm', symbol: 'Ω', name: 'ohm', also: 'ohms,Ω', times: '1', code: 'OHM' },
    { id: 'kohm', symbol: 'kΩ', name: 'kilohm', also: 'kohms,kΩ,kilohm,kilohms', times: '1000', code: 'B49' },
  ],
  concentration: [
    { id: 'ppm', name: 'parts per million by mass', times: '1', code: '59' },
    { id: 'mg/kg', name: 'milligram per kilogram', times: '1', code: 'NA' },
    { id: '%', name: 'percent', also: 'percent,pct', times: '10000', code: 'P1' },
  ],
  count: [
    { id: 'times', symbol: '', name: 'count', also: 'time,x,count,cycle,cycles', times: '1', code: 'C62' },
  ],
};

/** How each dimension is spoken of in messages, and a quantity of it as an example. */
export const DIMENSIONS: Readonly<Record<Dimension, { readonly spoken: string; readonly example: string }>> =
  {
    volume: { spoken: 'a volume', example: '3 qt' },
    flow: { spoken: 'a flow', example: '5 gal/min' },
    length: { spoken: 'a length', example: '0.018 in' },
    distance: { spoken: 'a distance', example: '84,310 mi' },
    temperature: { spoken: 'a temperature', example: '190 F' },
    pressure: { spoken: 'a pressure', example: '60 psi' },
    torque: { spoken: 'a torque', example: '90 lb-ft' },
    mass: { spoken: 'a mass', example: '12 lb' },
    time: { spoken: 'a time', example: '45 min' },
    rotation: { spoken: 'a speed of rotation', example: '650 rpm' },
    angle: { spoken: 'an angle', example: '90 deg' },
    voltage: { spoken: 'a voltage', example: '12.6 V' },
    current: { spoken: 'a current', example: '0.9 A' },
    resistance: { spoken: 'a resistance', example: '15 ohm' },
    concentration: { spoken: 'a concentration', example: '500 ppm' },
    count: { spoken: 'a count', example: '4' },
  };
