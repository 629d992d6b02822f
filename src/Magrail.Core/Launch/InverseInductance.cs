using MathNet.Numerics.LinearAlgebra;

namespace Magrail;

/// <summary>Inverts the inductance matrix of those circuits that conduct.</summary>
internal static class InverseInductance
{
    /// <summary>The inverse over the circuits in a mask, row by row, with zeros for all others.</summary>
    public static double[] Of(double[] inductances, int n, int mask)
    {
        double[] result = new double[n * n];
        int[] active = [.. Enumerable.Range(0, n).Where(k => (mask & (1 << k)) != 0)];
        if (active.Length == 0)
        {
            return result;
        }

        Matrix<double> inverse = Matrix<double>.Build
            .Dense(active.Length, active.Length, (row, column) => inductances[(active[row] * n) + active[column]])
            .Cholesky()
            .Solve(Matrix<double>.Build.DenseIdentity(active.Length));
        for (int row = 0; row < active.Length; row++)
        {
            for (int column = 0; column < active.Length; column++)
            {
                result[(active[row] * n) + active[column]] = inverse[row, column];
            }
        }

        return result;
    }
}
