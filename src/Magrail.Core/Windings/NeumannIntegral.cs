using System.Runtime.CompilerServices;
using Magrail.Numerics;
using Magrail.Sources;

namespace Magrail;

/// <summary>
/// Neumann's double integral M = μ₀/(4π) ∮∮ dl·dl′/|r − r′| for one turn of each of two winding blocks with parallel
/// axes, averaged over both winding sections.
/// </summary>
/// <remarks>
/// <para>
/// Of the six integrations, four or five are done in closed form. With ρ the distance across the axis and u the distance
/// along it, the average over both axial extents is a sum of ± G(u, ρ) = u asinh(u/ρ) − √(u² + ρ²), where ∂²G/∂u² = 1/√(u² + ρ²).
/// The depth of the source is integrated next (along a ray from the corner's center, weighted with the radius, for an arc),
/// and for a straight leg its length too: the antiderivatives are in <see cref="Antiderivatives"/>. What is left
/// is the angle of an arc, and depth and path of the field point: Gauss-Legendre, on pieces graded toward the nearest point.
/// </para>
/// <para>
/// Where the field point is more than eight section sizes away, the antiderivatives would cancel to noise; there the section is
/// averaged by three-point rules, exact to the fifth degree.
/// </para>
/// </remarks>
internal static class NeumannIntegral
{
    // Section sizes beyond which three-point rules replace closed forms.
    private const double FarRatio = 8;

    // Each graded piece ends this many times farther from the nearest point than it starts.
    private const double Growth = 3;

    // Error allowed on one panel of the field path, as a part of the path times 4π/μ₀ A of order 1.
    private const double PanelTolerance = 3e-8;

    // Where the legs of a turn meet, the field of a section so many times as deep as it is long bends more than the rule for others sees.
    private const double FlatPancake = 8;

    // Against the gap to another winding and a quarter of its length, a depth beyond which one rule sees its edges no more.
    private const double RatioOfOnePiece = 18;
    private const int MostPieces = 8;

    /// <summary>The rules for everyday use: below 1e-7 of the self-inductance for coils of ordinary shape.</summary>
    public static readonly Rules Normal = new(Angle: 8, Path: 6, ThinDepth: 5, Depth: 8, PancakeDepth: 18, UnlikeDepth: 10);

    /// <summary>About twice the nodes everywhere, to tell how good the others are.</summary>
    public static readonly Rules Fine = new(Angle: 14, Path: 12, ThinDepth: 10, Depth: 18, PancakeDepth: 32, UnlikeDepth: 20);

    /// <summary>Mutual inductance of a turn of one block and a turn of another, henries.</summary>
    /// <param name="a">The coil of the first block.</param>
    /// <param name="blockA">The first block.</param>
    /// <param name="b">The coil of the second block.</param>
    /// <param name="blockB">The second block.</param>
    /// <param name="offset">Middle of coil b from that of coil a, in the coils' own frame: axis y, widths x, heights z.</param>
    /// <param name="rules">Orders of the Gauss-Legendre rules; <see cref="Normal"/> if left out.</param>
    public static double PerTurnPair(
        in CoilSi a, in WindingBlockSi blockA, in CoilSi b, in WindingBlockSi blockB, Vector3D offset, Rules? rules = null)
    {
        if (blockA.OuterDepth - blockA.InnerDepth > blockB.OuterDepth - blockB.InnerDepth)
        {
            // The source's depth is integrated in closed form: let it be the deeper one.
            return PerTurnPair(b, blockB, a, blockA, -1 * offset, rules);
        }

        Rules orders = rules ?? Normal;
        Axial axial = new(blockA.AxialFrom, blockA.AxialTo, blockB.AxialFrom + offset.Y, blockB.AxialTo + offset.Y);
        Source source = new(b, blockB, axial, orders.Angle);
        Outline field = new(a);
        double depth = blockA.OuterDepth - blockA.InnerDepth;
        bool alike = offset.X == 0 && offset.Z == 0 && field.SameAs(b);
        bool thin = alike && depth < 0.15 * Math.Min(axial.Extent, field.StraightX + field.StraightZ + field.Corner + blockA.OuterDepth);
        int depthOrder = thin ? orders.ThinDepth : depth > 1.5 * axial.Extent ? orders.PancakeDepth : orders.Depth;
        int pieces = 1;
        if (!alike)
        {
            // The other winding's edges show through a narrow axial gap: the deeper the section against it, the more nodes.
            double ratio = depth / (axial.Gap + (0.25 * axial.Extent));
            depthOrder = (int)(orders.UnlikeDepth * Math.Min(3.2, 1 + (0.12 * ratio)));
            pieces = Math.Clamp((int)Math.Ceiling(ratio / RatioOfOnePiece), 1, MostPieces);
        }

        GaussNodes depthRule = GaussNodes.OfOrder(depthOrder);
        double[] depthNodes = depthRule.Abscissas;
        double[] depthWeights = depthRule.Weights;

        // The source is symmetric about its middle: of the field path, only what the offset leaves unlike is walked.
        int halvesX = offset.X == 0 ? 1 : 2;
        int halvesZ = offset.Z == 0 ? 1 : 2;
        double weight = 4.0 / (halvesX * halvesZ);

        // Outlines alike in one place have their features in the same places; otherwise they must be looked for.
        double tolerance = PanelTolerance * (field.StraightX + field.StraightZ + field.Corner + blockA.OuterDepth);
        int pathOrder = depth > FlatPancake * axial.Extent ? orders.Path + 2 : orders.Path;
        Path path = new(source, field, GaussNodes.OfOrder(pathOrder), offset);
        List<Panel> panels = [];
        double sum = 0;
        for (int signX = 1; signX > 1 - (2 * halvesX); signX -= 2)
        {
            for (int signZ = 1; signZ > 1 - (2 * halvesZ); signZ -= 2)
            {
                panels.Clear();
                path.Lay(panels, signX, signZ, blockA, alike ? double.PositiveInfinity : tolerance);
                for (int i = 0; i < pieces * depthNodes.Length; i++)
                {
                    (int piece, int node) = Math.DivRem(i, depthNodes.Length);
                    double s = blockA.InnerDepth + (depth / pieces * (piece + (0.5 * (1 + depthNodes[node]))));
                    double quarter = 0;
                    foreach (Panel panel in panels)
                    {
                        quarter += path.Along(panel, s, signX, signZ);
                    }

                    sum += 0.5 / pieces * depthWeights[node] * quarter;
                }
            }
        }

        return PhysicalConstants.VacuumPermeability / (4 * Math.PI) * weight * sum;
    }

    /// <summary>Orders of the Gauss-Legendre rules: angle of an arc, path of the field point, its depth in a thin, a stout and a flat section, and in the field of another coil.</summary>
    internal sealed record Rules(int Angle, int Path, int ThinDepth, int Depth, int PancakeDepth, int UnlikeDepth);

    /// <summary>
    /// A part of a quarter of the field path, in meters from the joint of leg and corner: the leg along z (0), the leg along x (1); or in
    /// radians from that joint: the half of the corner next to the leg along z (2), next to the leg along x (3), a whole quarter circle (4).
    /// </summary>
    private readonly record struct Panel(int Piece, double From, double To);

    /// <summary>The path of the field point: ∫ A·dl over panels of a quarter turn, reflected by two signs.</summary>
    private readonly ref struct Path(in Source source, in Outline field, GaussNodes rule, Vector3D offset)
    {
        private const int GreatestDepth = 14;

        private readonly Source _source = source;
        private readonly Outline _field = field;
        private readonly double[] _nodes = rule.Abscissas;
        private readonly double[] _weights = rule.Weights;
        private readonly Vector3D _offset = offset;

        /// <summary>
        /// Panels graded toward the joints of legs and corner; halved further until halves agree with the whole to the tolerance, at the innermost
        /// and outermost turn.
        /// </summary>
        public void Lay(List<Panel> panels, int signX, int signZ, in WindingBlockSi block, double tolerance)
        {
            if (_field.IsRound && _source.IsRound && _offset.X == 0 && _offset.Z == 0)
            {
                // A is the same all round: any rule is exact on the whole quarter.
                panels.Add(new Panel(4, 0, 0.5 * Math.PI));
                return;
            }

            double feature = Math.Min(_source.OuterRadius, _source.Section);
            double arcFeature = feature / (_field.Corner + block.OuterDepth);
            for (int piece = 0; piece < 4; piece++)
            {
                Grading grading = piece switch
                {
                    0 => new Grading(_field.StraightZ, feature),
                    1 => new Grading(_field.StraightX, feature),
                    _ => new Grading(0.25 * Math.PI, arcFeature),
                };
                while (grading.Next(out double from, out double to))
                {
                    Panel panel = new(piece, from, to);
                    if (double.IsPositiveInfinity(tolerance))
                    {
                        panels.Add(panel);
                    }
                    else
                    {
                        Refine(
                            panels,
                            panel,
                            Along(panel, block.InnerDepth, signX, signZ),
                            Along(panel, block.OuterDepth, signX, signZ),
                            signX,
                            signZ,
                            block,
                            tolerance,
                            GreatestDepth);
                    }
                }
            }
        }

        /// <summary>∫ A·dl over a panel, at depth s.</summary>
        public double Along(in Panel panel, double s, int signX, int signZ)
        {
            double radius = _field.Corner + s;
            double middle = 0.5 * (panel.From + panel.To);
            double half = 0.5 * (panel.To - panel.From);
            if (panel.Piece == 4)
            {
                double diagonal = Math.Sqrt(0.5);
                return 2 * half * radius * _source.At(radius * diagonal, radius * diagonal, -diagonal, diagonal);
            }

            double sum = 0;
            for (int j = 0; j < _nodes.Length; j++)
            {
                double t = middle + (half * _nodes[j]);
                double x = _field.StraightX;
                double z = _field.StraightZ;
                double tangentX = 0;
                double tangentZ = 0;
                switch (panel.Piece)
                {
                    case 0:
                        x += radius;
                        z -= t;
                        tangentZ = 1;
                        break;
                    case 1:
                        x -= t;
                        z += radius;
                        tangentX = -1;
                        break;
                    default:
                        (double sin, double cos) = Math.SinCos(panel.Piece == 2 ? t : (0.5 * Math.PI) - t);
                        x += radius * cos;
                        z += radius * sin;
                        tangentX = -sin;
                        tangentZ = cos;
                        break;
                }

                sum += _weights[j] * _source.At((signX * x) - _offset.X, (signZ * z) - _offset.Z, signZ * tangentX, signX * tangentZ);
            }

            return (panel.Piece < 2 ? half : half * radius) * sum;
        }

        private void Refine(
            List<Panel> panels, in Panel panel, double inner, double outer, int signX, int signZ, in WindingBlockSi block, double tolerance, int depth)
        {
            double middle = 0.5 * (panel.From + panel.To);
            Panel first = panel with { To = middle };
            Panel second = panel with { From = middle };
            double inner1 = Along(first, block.InnerDepth, signX, signZ);
            double inner2 = Along(second, block.InnerDepth, signX, signZ);
            double outer1 = Along(first, block.OuterDepth, signX, signZ);
            double outer2 = Along(second, block.OuterDepth, signX, signZ);
            if (depth == 0 || (Math.Abs(inner1 + inner2 - inner) < tolerance && Math.Abs(outer1 + outer2 - outer) < tolerance))
            {
                panels.Add(panel);
                return;
            }

            Refine(panels, first, inner1, outer1, signX, signZ, block, tolerance, depth - 1);
            Refine(panels, second, inner2, outer2, signX, signZ, block, tolerance, depth - 1);
        }
    }

    /// <summary>Pieces of a length, growing away from its start: the first as long as <c>first</c>, then each ending Growth times farther out.</summary>
    private ref struct Grading(double length, double first)
    {
        private double _end;

        public bool Next(out double from, out double to)
        {
            from = _end;
            if (from >= length)
            {
                to = from;
                return false;
            }

            to = from == 0 ? first : Growth * from;

            // A last piece shorter than half of the one before is joined to it.
            if (to + (0.5 * (to - from)) >= length)
            {
                to = length;
            }

            _end = to;
            return true;
        }
    }

    /// <summary>The former's outline: half lengths of the straight parts, corner radius.</summary>
    private readonly struct Outline(in CoilSi coil)
    {
        public readonly double StraightX = coil.HalfWidth - coil.Corner;
        public readonly double StraightZ = coil.HalfHeight - coil.Corner;
        public readonly double Corner = coil.Corner;

        public bool SameAs(in CoilSi other)
            => StraightX == other.HalfWidth - other.Corner && StraightZ == other.HalfHeight - other.Corner && Corner == other.Corner;

        public bool IsRound => StraightX <= 1e-12 * Corner && StraightZ <= 1e-12 * Corner;
    }

    /// <summary>
    /// The average over both axial extents: (1/(ℓ ℓ′)) ∫∫ dy dy′ f(y − y′) = Σ ± G(u), G″ = f. Up to four distances u, or three nodes with
    /// the moments of the distribution of y − y′ for far points.
    /// </summary>
    private readonly struct Axial
    {
        public readonly double U0, U1, U2, U3, C0, C1, C2, C3;
        public readonly double Far0, Far1, Far2, FarWeightSide, FarWeightMiddle;
        public readonly double Gap, Extent, Product;
        public readonly int Count;

        public Axial(double a1, double a2, double b1, double b2)
        {
            double lengthA = a2 - a1;
            double lengthB = b2 - b1;
            Extent = Math.Max(lengthA, lengthB);
            Product = lengthA * lengthB;
            double center = 0.5 * (a1 + a2 - b1 - b2);
            Gap = Math.Max(0, Math.Abs(center) - (0.5 * (lengthA + lengthB)));

            Span<double> u = [Math.Abs(a2 - b1), Math.Abs(a1 - b1), Math.Abs(a2 - b2), Math.Abs(a1 - b2)];
            Span<double> c = [1, -1, -1, 1];
            int count = 0;
            for (int i = 0; i < 4; i++)
            {
                int same = 0;
                while (same < count && Math.Abs(u[same] - u[i]) > 1e-13 * Extent)
                {
                    same++;
                }

                (double distance, double sign) = (u[i], c[i]);
                if (same < count)
                {
                    c[same] += sign;
                }
                else
                {
                    u[count] = distance < 1e-13 * Extent ? 0 : distance;
                    c[count] = sign;
                    count++;
                }
            }

            Count = count;
            (U0, U1, U2, U3) = (u[0], u[1], u[2], u[3]);
            (C0, C1, C2, C3) = (c[0], c[1], c[2], c[3]);

            // Three nodes that share the first five moments of y - y', the sum of two even distributions.
            double varianceA = lengthA * lengthA / 12;
            double varianceB = lengthB * lengthB / 12;
            double second = varianceA + varianceB;
            double fourth = (1.8 * varianceA * varianceA) + (1.8 * varianceB * varianceB) + (6 * varianceA * varianceB);
            double step = Math.Sqrt(fourth / second);
            (Far0, Far1, Far2) = (center - step, center, center + step);
            FarWeightSide = 0.5 * second * second / fourth;
            FarWeightMiddle = 1 - (2 * FarWeightSide);
        }
    }

    /// <summary>One turn of the source block: its vector potential, averaged over the axial extent of the field block.</summary>
    private readonly struct Source
    {
        private readonly double[] _angleNodes, _angleWeights;
        private readonly Axial _axial;
        private readonly Outline _outline;
        private readonly double _inner, _outer, _depth, _farSquare, _farFromDepthSquare, _nearScale, _norm;

        public Source(in CoilSi coil, in WindingBlockSi block, in Axial axial, int angleOrder)
        {
            GaussNodes angles = GaussNodes.OfOrder(angleOrder);
            _angleNodes = angles.Abscissas;
            _angleWeights = angles.Weights;
            _axial = axial;
            _outline = new Outline(coil);
            _inner = _outline.Corner + block.InnerDepth;
            _outer = _outline.Corner + block.OuterDepth;
            _depth = block.OuterDepth - block.InnerDepth;
            Section = Math.Max(axial.Extent, _depth);
            _farSquare = FarRatio * FarRatio * Section * Section;
            _farFromDepthSquare = FarRatio * FarRatio * _depth * _depth;
            _nearScale = Math.Max(0.5 * Math.Min(_depth, axial.Extent), 1e-8 * _outer);
            _norm = 1 / (axial.Product * _depth);
        }

        public double Section { get; }

        /// <summary>Radius of the outermost turn in the corner: how quickly the field changes along a path past the corner.</summary>
        public double OuterRadius => _outer;

        public bool IsRound => _outline.IsRound;

        /// <summary>4π/μ₀ t·A at a point, t the unit tangent of the field path.</summary>
        public double At(double x, double z, double tangentX, double tangentZ)
        {
            double straightX = _outline.StraightX;
            double straightZ = _outline.StraightZ;
            double sum = 0;
            if (tangentX != 0 && straightX > 0)
            {
                sum += tangentX * (Leg(-straightX - x, straightX - x, straightZ + z) - Leg(-straightX - x, straightX - x, straightZ - z));
            }

            if (tangentZ != 0 && straightZ > 0)
            {
                sum += tangentZ * (Leg(-straightZ - z, straightZ - z, straightX - x) - Leg(-straightZ - z, straightZ - z, straightX + x));
            }

            if (_outer > 0)
            {
                // Each corner turned into the first quadrant. Turning counterclockwise stays so under the two reflections together.
                sum += Arc(x - straightX, z - straightZ, tangentX, tangentZ);
                sum += Arc(-x - straightX, z - straightZ, tangentX, -tangentZ);
                sum += Arc(x - straightX, -z - straightZ, -tangentX, tangentZ);
                sum += Arc(-x - straightX, -z - straightZ, -tangentX, -tangentZ);
            }

            return _norm * sum;
        }

        /// <summary>
        /// A straight leg along h from h1 to h2 and in depth from q0 + inner to q0 + outer, seen from the origin: the integral times
        /// <c>depth · ℓ ℓ′</c>.
        /// </summary>
        private double Leg(double h1, double h2, double q0)
        {
            double q1 = q0 + _inner;
            double q2 = q0 + _outer;
            double nearH = h1 > 0 ? h1 : (h2 < 0 ? h2 : 0);
            double nearQ = q1 > 0 ? q1 : (q2 < 0 ? q2 : 0);
            if ((nearH * nearH) + (nearQ * nearQ) + (_axial.Gap * _axial.Gap) < _farSquare)
            {
                double near = LegNear(_axial.U0, h1, h2, q1, q2, _axial.C0) + LegNear(_axial.U1, h1, h2, q1, q2, _axial.C1);
                if (_axial.Count > 2)
                {
                    near += LegNear(_axial.U2, h1, h2, q1, q2, _axial.C2);
                }

                if (_axial.Count > 3)
                {
                    near += LegNear(_axial.U3, h1, h2, q1, q2, _axial.C3);
                }

                return near;
            }

            double middle = 0.5 * (q1 + q2);
            double side = 0.5 * _depth * Antiderivatives.GaussSide;
            double sum = (Antiderivatives.GaussWeightMiddle * LegFar(h1, h2, middle))
                + (Antiderivatives.GaussWeightSide * (LegFar(h1, h2, middle - side) + LegFar(h1, h2, middle + side)));
            return sum / _norm;
        }

        private static double LegNear(double u, double h1, double h2, double q1, double q2, double sign)
            => sign * (Antiderivatives.DepthAndLength(u, q2, h2) - Antiderivatives.DepthAndLength(u, q1, h2)
                - Antiderivatives.DepthAndLength(u, q2, h1) + Antiderivatives.DepthAndLength(u, q1, h1));

        private double LegFar(double h1, double h2, double q)
            => (_axial.FarWeightMiddle * Filament(h1, h2, (q * q) + (_axial.Far1 * _axial.Far1)))
                + (_axial.FarWeightSide * (Filament(h1, h2, (q * q) + (_axial.Far0 * _axial.Far0))
                    + Filament(h1, h2, (q * q) + (_axial.Far2 * _axial.Far2))));

        /// <summary>∫ dh/√(h² + d²).</summary>
        private static double Filament(double h1, double h2, double distanceSquare)
        {
            double r1 = Math.Sqrt((h1 * h1) + distanceSquare);
            double r2 = Math.Sqrt((h2 * h2) + distanceSquare);

            // Without cancellation for either sign: (r + h)(r - h) = d^2.
            if (h1 >= 0)
            {
                return Math.Log((h2 + r2) / (h1 + r1));
            }

            return h2 <= 0 ? Math.Log((r1 - h1) / (r2 - h2)) : Math.Log((h2 + r2) * (r1 - h1) / distanceSquare);
        }

        /// <summary>
        /// The corner of the first quadrant, seen from a point at (x, z) from its center: the integral over angle and depth of t·t′, times
        /// <c>depth · ℓ ℓ′</c>.
        /// </summary>
        private double Arc(double x, double z, double tangentX, double tangentZ)
        {
            double distance = Math.Sqrt((x * x) + (z * z));
            double direction = distance == 0 ? 0.25 * Math.PI : Math.Atan2(z, x);

            // Behind the corner, from -3/4 pi down, the end at pi/2 is nearer: turn the direction into -3/4 pi … 5/4 pi.
            if (direction < -0.75 * Math.PI)
            {
                direction += 2 * Math.PI;
            }

            double nearest = Math.Clamp(direction, 0, 0.5 * Math.PI);
            double h = distance * Math.Sin(direction - nearest);
            double p = distance * Math.Cos(direction - nearest);
            double q = p < _inner ? _inner - p : (p > _outer ? p - _outer : 0);
            double apart = Math.Sqrt((h * h) + (q * q) + (_axial.Gap * _axial.Gap));
            double first = Math.Max(apart, _nearScale);
            double sum = 0;
            Grading up = new((0.5 * Math.PI) - nearest, first / _outer);
            while (up.Next(out double from, out double to))
            {
                sum += Piece(nearest + from, nearest + to, distance, direction, tangentX, tangentZ);
            }

            Grading down = new(nearest, first / _outer);
            while (down.Next(out double from, out double to))
            {
                sum += Piece(nearest - to, nearest - from, distance, direction, tangentX, tangentZ);
            }

            return sum;
        }

        private double Piece(double from, double to, double distance, double direction, double tangentX, double tangentZ)
        {
            double sum = 0;
            double half = 0.5 * (to - from);
            double mid = 0.5 * (from + to);
            for (int i = 0; i < _angleNodes.Length; i++)
            {
                double angle = mid + (half * _angleNodes[i]);
                (double sin, double cos) = Math.SinCos(angle);
                (double sinOff, double cosOff) = Math.SinCos(direction - angle);
                double along = (tangentZ * cos) - (tangentX * sin);
                sum += _angleWeights[i] * along * Ray(distance * cosOff, distance * sinOff);
            }

            return half * sum;
        }

        /// <summary>∫ R dR over the depth of the corner along one ray, the point at p along the ray and h beside it.</summary>
        private double Ray(double p, double h)
        {
            double q1 = _inner - p;
            double q2 = _outer - p;
            double nearQ = q1 > 0 ? q1 : (q2 < 0 ? q2 : 0);
            double square = h * h;
            double apart = square + (nearQ * nearQ);
            if (apart + (_axial.Gap * _axial.Gap) < _farSquare)
            {
                if (apart > _farFromDepthSquare)
                {
                    double center = 0.5 * (q1 + q2);
                    double out1 = 0.5 * _depth * Antiderivatives.GaussSide;
                    return _depth * ((Antiderivatives.GaussWeightMiddle * RayMiddle(p, center, square))
                        + (Antiderivatives.GaussWeightSide * (RayMiddle(p, center - out1, square) + RayMiddle(p, center + out1, square))));
                }

                double near = (_axial.C0 * Antiderivatives.DepthOnRay(_axial.U0, p, q1, q2, h))
                    + (_axial.C1 * Antiderivatives.DepthOnRay(_axial.U1, p, q1, q2, h));
                if (_axial.Count > 2)
                {
                    near += _axial.C2 * Antiderivatives.DepthOnRay(_axial.U2, p, q1, q2, h);
                }

                if (_axial.Count > 3)
                {
                    near += _axial.C3 * Antiderivatives.DepthOnRay(_axial.U3, p, q1, q2, h);
                }

                return near;
            }

            double middle = 0.5 * (q1 + q2);
            double side = 0.5 * _depth * Antiderivatives.GaussSide;
            double sum = (Antiderivatives.GaussWeightMiddle * RayFar(p, middle, square))
                + (Antiderivatives.GaussWeightSide * (RayFar(p, middle - side, square) + RayFar(p, middle + side, square)));
            return sum / _norm;
        }

        private double RayMiddle(double p, double q, double square)
        {
            double inPlane = square + (q * q);
            double sum = (_axial.C0 * Antiderivatives.Sheets(_axial.U0, inPlane)) + (_axial.C1 * Antiderivatives.Sheets(_axial.U1, inPlane));
            if (_axial.Count > 2)
            {
                sum += _axial.C2 * Antiderivatives.Sheets(_axial.U2, inPlane);
            }

            if (_axial.Count > 3)
            {
                sum += _axial.C3 * Antiderivatives.Sheets(_axial.U3, inPlane);
            }

            return (p + q) * sum;
        }

        private double RayFar(double p, double q, double square)
        {
            double inPlane = square + (q * q);
            return (p + q) * ((_axial.FarWeightMiddle / Math.Sqrt(inPlane + (_axial.Far1 * _axial.Far1)))
                + (_axial.FarWeightSide / Math.Sqrt(inPlane + (_axial.Far0 * _axial.Far0)))
                + (_axial.FarWeightSide / Math.Sqrt(inPlane + (_axial.Far2 * _axial.Far2))));
        }
    }

    /// <summary>
    /// Antiderivatives of G(u, ρ) = u asinh(u/ρ) − √(u² + ρ²), ρ² = q² + h², u ≥ 0. Each returns its limit where a logarithm or
    /// arctangent meets zero. Checked by differentiation.
    /// </summary>
    internal static class Antiderivatives
    {
        /// <summary>Outer node of the three-point Gauss-Legendre rule, √(3/5).</summary>
        public const double GaussSide = 0.7745966692414834;

        /// <summary>Weight of an outer node, the weights adding up to 1.</summary>
        public const double GaussWeightSide = 5.0 / 18;

        /// <summary>Weight of the middle node.</summary>
        public const double GaussWeightMiddle = 4.0 / 9;

        /// <summary>G(u, ρ) itself.</summary>
        public static double Sheets(double u, double rhoSquare)
        {
            double rho = Math.Sqrt(rhoSquare);
            if (u == 0)
            {
                return -rho;
            }

            double w = Math.Sqrt(rhoSquare + (u * u));
            return (u * Math.Log((u + w) / rho)) - w;
        }

        /// <summary>∫ (p + q) G dq from q1 to q2: depth along a ray at distance h.</summary>
        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public static double DepthOnRay(double u, double p, double q1, double q2, double h)
        {
            double h2 = h * h;
            double absH = Math.Abs(h);
            double rho1Square = (q1 * q1) + h2;
            double rho2Square = (q2 * q2) + h2;
            if (u == 0)
            {
                // G = -ρ.
                double rho1 = Math.Sqrt(rho1Square);
                double rho2 = Math.Sqrt(rho2Square);
                double straight = (h2 == 0 ? 0 : 0.5 * h2 * (Asinh(q1, rho1, absH) - Asinh(q2, rho2, absH)))
                    + (0.5 * ((q1 * rho1) - (q2 * rho2)));
                return (p * straight) + (((rho1 * rho1Square) - (rho2 * rho2Square)) / 3);
            }

            double u2 = u * u;
            double w1 = Math.Sqrt(rho1Square + u2);
            double w2 = Math.Sqrt(rho2Square + u2);
            double side = Math.Sqrt(h2 + u2);
            double log1 = rho1Square == 0 ? 0 : Math.Log((u + w1) / Math.Sqrt(rho1Square));
            double log2 = rho2Square == 0 ? 0 : Math.Log((u + w2) / Math.Sqrt(rho2Square));
            double ones = (u * ((q2 * log2) - (q1 * log1)))
                + (0.5 * (u2 - h2) * (Asinh(q2, w2, side) - Asinh(q1, w1, side)))
                - (0.5 * ((q2 * w2) - (q1 * w1)));
            if (h2 > 0)
            {
                ones -= u * absH * (Math.Atan(q2 * u / (absH * w2)) - Math.Atan(q1 * u / (absH * w1)));
            }


            // w2 - w1 as it does not cancel for a thin section.
            double step = (q2 - q1) * (q2 + q1) / (w1 + w2);
            double weighted = (0.5 * u * ((rho2Square * log2) - (rho1Square * log1)))
                + (step * ((0.5 * u2) - (((w2 * w2) + (w2 * w1) + (w1 * w1)) / 3)));
            return (p * ones) + weighted;
        }

        /// <summary>∬ G dq dh: depth and length of a straight leg.</summary>
        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public static double DepthAndLength(double u, double q, double h)
        {
            double q2 = q * q;
            double h2 = h * h;
            double u2 = u * u;
            double rhoSquare = q2 + h2;
            double rho = Math.Sqrt(rhoSquare);
            double absQ = Math.Abs(q);
            double absH = Math.Abs(h);
            if (u == 0)
            {
                double sum0 = -q * h * rho / 3;
                if (h != 0)
                {
                    sum0 -= h * h2 / 6 * Asinh(q, rho, absH);
                }

                if (q != 0)
                {
                    sum0 -= q * q2 / 6 * Asinh(h, rho, absQ);
                }

                return sum0;
            }

            double w = Math.Sqrt(rhoSquare + u2);
            double sum = -q * h * w / 3;
            sum += h * ((0.5 * u2) - (h2 / 6)) * Asinh(q, w, Math.Sqrt(h2 + u2));
            sum += q * ((0.5 * u2) - (q2 / 6)) * Asinh(h, w, Math.Sqrt(q2 + u2));
            sum -= u * u2 / 6 * Math.Atan(q * h / (u * w));
            if (q != 0 && h != 0)
            {
                sum += q * h * u * Math.Log((u + w) / rho);
                sum -= 0.5 * u * ((q2 * Math.Atan(h * u / (q * w))) + (h2 * Math.Atan(q * u / (h * w))));
            }

            return sum;
        }

        /// <summary>asinh(x/side), with w = √(x² + side²) at hand.</summary>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        private static double Asinh(double x, double w, double side)
        {
            double size = Math.Abs(x);
            double value = size < 0.01 * side ? SmallAsinh(size / side) : Math.Log((size + w) / side);
            return x >= 0 ? value : -value;
        }

        /// <summary>asinh(x) for 0 ≤ x ≤ 0.01, to round-off: the logarithm would lose digits.</summary>
        private static double SmallAsinh(double x)
        {
            double square = x * x;
            return x * (1 - (square * ((1.0 / 6) - (square * ((3.0 / 40) - (square * ((15.0 / 336) - (square * (105.0 / 3456)))))))));
        }
    }
}
