namespace Magrail;

/// <summary>A track as the field kernels see it: plain numbers in SI units.</summary>
/// <param name="Stations">The station at each place.</param>
/// <param name="Positions">x of each station's origin, m, ascending.</param>
/// <param name="Signs">+1 or -1 for each station.</param>
internal sealed record TrackSi(StationSi[] Stations, double[] Positions, int[] Signs)
{
    /// <summary>B of all stations, T.</summary>
    public Vector3D FluxDensity(Vector3D point)
    {
        Vector3D sum = default;
        for (int i = 0; i < Stations.Length; i++)
        {
            sum += Signs[i] * Stations[i].FluxDensity(point with { X = point.X - Positions[i] });
        }

        return sum;
    }
}
