using MathNet.Numerics.Integration;

namespace Magrail.Numerics;

/// <summary>Nodes and weights of Gauss-Legendre quadrature on [-1, 1], made once for each order.</summary>
/// <remarks>Exact for polynomials up to degree 2n - 1; the nodes come from MathNet.Numerics.</remarks>
internal sealed class GaussNodes
{
    private const int Greatest = 64;

    private static readonly GaussNodes?[] Made = new GaussNodes?[Greatest + 1];

    private GaussNodes(int order)
    {
        var rule = new GaussLegendreRule(-1, 1, order);
        Abscissas = rule.Abscissas;
        Weights = rule.Weights;
        int padded = (order + 3) & ~3;
        PaddedAbscissas = new double[padded];
        PaddedWeights = new double[padded];
        Abscissas.CopyTo(PaddedAbscissas, 0);
        Weights.CopyTo(PaddedWeights, 0);
    }

    /// <summary>The nodes, followed by zeros up to a multiple of four.</summary>
    public double[] PaddedAbscissas { get; }

    /// <summary>The weights, followed by zeros up to a multiple of four.</summary>
    public double[] PaddedWeights { get; }

    /// <summary>The nodes, ascending, symmetric about zero.</summary>
    public double[] Abscissas { get; }

    /// <summary>The weights; they add up to 2.</summary>
    public double[] Weights { get; }

    /// <summary>The rule of the given order, 1 to 64. Thread-safe: two threads may make it twice, with the same content.</summary>
    public static GaussNodes OfOrder(int order) => Made[order] ??= new GaussNodes(order);
}
