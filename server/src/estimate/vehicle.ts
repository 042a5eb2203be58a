/** What the vehicle says against itself: its number, its year. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import { checkVin } from '../../../schemas/values/vin.ts';

export function vehicleProblems(job: Job, place: (path: Path) => Path): Problem[] {
  const { vehicle } = job;
  if (!vehicle?.vin) return [];
  const report = checkVin(vehicle.vin, {
    ...(vehicle.region ? { region: vehicle.region } : {}),
    ...(vehicle.year ? { statedYear: vehicle.year } : {}),
    lightVehicle: !vehicle.heavy,
  });
  return report.problems.map(({ code, severity, message }) => ({
    code,
    severity,
    message,
    path: place(['vehicle', 'vin']),
  }));
}
