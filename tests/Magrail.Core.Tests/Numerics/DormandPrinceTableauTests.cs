using Magrail.Numerics;
using Xunit.Abstractions;
using T = Magrail.Numerics.DormandPrinceTableau;

namespace Magrail.Tests.Numerics;

/// <summary>
/// The order conditions of a Runge-Kutta method: for every rooted tree t of up to p vertices, Σ bᵢ Φᵢ(t) = 1/γ(t)
/// (J. C. Butcher; E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, theorem II.2.13).
/// A continuous extension has θ^ρ(t)/γ(t) on the right, with weights bᵢ(θ) (the same book, section II.6).
/// </summary>
public class DormandPrinceTableauTests(ITestOutputHelper output)
{
    // Rounding: seven terms of up to about 4 in double precision.
    private const double Rounding = 4e-15;

    private const string OrderConditions = "order conditions: E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, II.2 and II.6";

    private static readonly AccuracyRow Solution = new("tableau, 17 conditions of order five", OrderConditions, Rounding, "");
    private static readonly AccuracyRow Embedded = new("embedded solution, 8 conditions of order four", OrderConditions, Rounding, "");
    private static readonly AccuracyRow Dense = new("continuous extension, 8 conditions of order four at five places", OrderConditions, Rounding, "");

    private static readonly double[] C = [0, T.C2, T.C3, T.C4, T.C5, 1, 1];

    private static readonly double[][] A =
    [
        [0, 0, 0, 0, 0, 0, 0],
        [T.A21, 0, 0, 0, 0, 0, 0],
        [T.A31, T.A32, 0, 0, 0, 0, 0],
        [T.A41, T.A42, T.A43, 0, 0, 0, 0],
        [T.A51, T.A52, T.A53, T.A54, 0, 0, 0],
        [T.A61, T.A62, T.A63, T.A64, T.A65, 0, 0],
        [T.B1, 0, T.B3, T.B4, T.B5, T.B6, 0],
    ];

    private static readonly double[] Fifth = [T.B1, 0, T.B3, T.B4, T.B5, T.B6, 0];
    private static readonly double[] Difference = [T.E1, 0, T.E3, T.E4, T.E5, T.E6, T.E7];
    private static readonly double[] Fourth = [.. Fifth.Zip(Difference, (b, e) => b - e)];
    private static readonly double[] Extension = [T.D1, 0, T.D3, T.D4, T.D5, T.D6, T.D7];

    [Fact]
    public void There_are_17_trees_of_up_to_five_vertices()
        => Assert.Equal([1, 1, 2, 4, 9], Enumerable.Range(1, 5).Select(order => Tree.OfOrder(order).Count));

    [Fact]
    public void Rows_sum_to_the_nodes()
    {
        for (int i = 0; i < 7; i++)
        {
            Assert.Equal(C[i], A[i].Sum(), Rounding);
        }
    }

    [Fact]
    public void Solution_is_of_order_five()
    {
        double worst = WorstResidual(Fifth, 5, 1);
        output.WriteLine($"worst residual to order 5: {worst:G3}");
        Solution.Hold(worst);
    }

    [Fact]
    public void Embedded_solution_is_of_order_four_and_not_of_five()
    {
        double worst = WorstResidual(Fourth, 4, 1);
        output.WriteLine($"worst residual to order 4: {worst:G3}");
        Embedded.Hold(worst);
        Assert.True(WorstResidual(Fourth, 5, 1) > 1e-4, "An error estimate whose two solutions were both of order 5 would estimate nothing.");
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.25)]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(1)]
    public void Continuous_extension_is_of_order_four(double theta)
    {
        double worst = WorstResidual(Weights(theta), 4, theta);
        output.WriteLine($"worst residual to order 4 at {theta}: {worst:G3}");
        Dense.Hold(worst, $"at {theta}");
    }

    [Fact]
    public void Continuous_extension_meets_the_solution_at_both_ends_in_value_and_slope()
    {
        Assert.All(Weights(0), b => Assert.Equal(0, b, Rounding));
        Assert.All(Weights(1).Zip(Fifth), pair => Assert.Equal(pair.Second, pair.First, Rounding));

        // Slopes: b'(0) is k1 alone, b'(1) is k7 alone (first same as last). Central differences of a quartic with step e leave e².
        const double E = 1e-4;
        for (int i = 0; i < 7; i++)
        {
            Assert.Equal(i == 0 ? 1 : 0, (Weights(E)[i] - Weights(-E)[i]) / (2 * E), 1e-6);
            Assert.Equal(i == 6 ? 1 : 0, (Weights(1 + E)[i] - Weights(1 - E)[i]) / (2 * E), 1e-6);
        }
    }

    [Fact]
    public void Conditions_catch_a_published_misprint()
    {
        // b1 = 35/284 stands in a public copy of the tableau; 35/384 is right.
        double[] misprint = [35.0 / 284, .. Fifth.Skip(1)];
        Assert.True(WorstResidual(misprint, 5, 1) > 0.01);
    }

    /// <summary>The weights of the stages in the continuous extension, taken from <see cref="DenseStep"/> itself: each stage in turn is 1, the others 0.</summary>
    private static double[] Weights(double theta)
    {
        var weights = new double[7];
        for (int i = 0; i < 7; i++)
        {
            double difference = Fifth[i];
            double bend = (i == 0 ? 1 : 0) - difference;
            double[] coefficients = [0, difference, bend, difference - (i == 6 ? 1 : 0) - bend, Extension[i]];
            weights[i] = new DenseStep(0, 1, 1, coefficients, 1, 1).Value(0, theta);
        }

        return weights;
    }

    private static double WorstResidual(double[] weights, int order, double theta)
        => Enumerable.Range(1, order).SelectMany(Tree.OfOrder).Max(tree =>
            Math.Abs(weights.Zip(tree.StageWeights(), (b, phi) => b * phi).Sum() - (Math.Pow(theta, tree.Order) / tree.Density)));

    /// <summary>A rooted tree, as the list of the trees that hang from its root.</summary>
    private sealed class Tree(IReadOnlyList<Tree> branches)
    {
        public int Order { get; } = 1 + branches.Sum(branch => branch.Order);

        /// <summary>γ(t).</summary>
        public double Density => Order * branches.Aggregate(1.0, (product, branch) => product * branch.Density);

        /// <summary>Φᵢ(t) = Π over branches of Σⱼ aᵢⱼ Φⱼ(branch).</summary>
        public double[] StageWeights()
        {
            double[] phi = [1, 1, 1, 1, 1, 1, 1];
            foreach (Tree branch in branches)
            {
                double[] inner = branch.StageWeights();
                for (int i = 0; i < 7; i++)
                {
                    phi[i] *= A[i].Zip(inner, (a, x) => a * x).Sum();
                }
            }

            return phi;
        }

        public static IReadOnlyList<Tree> OfOrder(int order)
            => [.. Forests(order - 1, order - 1).Select(forest => new Tree(forest))];

        // All multisets of trees with a given number of vertices in all, the largest tree first.
        private static IEnumerable<IReadOnlyList<Tree>> Forests(int vertices, int largest)
        {
            if (vertices == 0)
            {
                yield return [];
                yield break;
            }

            for (int size = Math.Min(vertices, largest); size >= 1; size--)
            {
                IReadOnlyList<Tree> trees = OfOrder(size);
                for (int copies = vertices / size; copies >= 1; copies--)
                {
                    foreach (IReadOnlyList<Tree> same in Choose(trees, copies, 0))
                    {
                        foreach (IReadOnlyList<Tree> rest in Forests(vertices - (copies * size), size - 1))
                        {
                            yield return [.. same, .. rest];
                        }
                    }
                }
            }
        }

        private static IEnumerable<IReadOnlyList<Tree>> Choose(IReadOnlyList<Tree> trees, int copies, int from)
        {
            if (copies == 0)
            {
                yield return [];
                yield break;
            }

            for (int i = from; i < trees.Count; i++)
            {
                foreach (IReadOnlyList<Tree> rest in Choose(trees, copies - 1, i))
                {
                    yield return [trees[i], .. rest];
                }
            }
        }
    }
}
