// The part of the psychrolib package that is used here; the package ships no types. Temperatures in °C and pressures in Pa once set to SI.
declare module 'psychrolib' {
  const psychrolib: {
    readonly SI: unknown
    SetUnitSystem(system: unknown): void
    GetSatVapPres(temperature: number): number
    GetTDewPointFromRelHum(temperature: number, humidity: number): number
    GetHumRatioFromRelHum(temperature: number, humidity: number, pressure: number): number
    GetTWetBulbFromRelHum(temperature: number, humidity: number, pressure: number): number
    GetRelHumFromTWetBulb(temperature: number, wetBulb: number, pressure: number): number
    GetHumRatioFromTWetBulb(temperature: number, wetBulb: number, pressure: number): number
    GetMoistAirEnthalpy(temperature: number, humidityRatio: number): number
    GetMoistAirVolume(temperature: number, humidityRatio: number, pressure: number): number
    GetStandardAtmPressure(altitude: number): number
  }
  export default psychrolib
}
