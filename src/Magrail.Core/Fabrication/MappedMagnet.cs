using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>One magnet of the orientation map.</summary>
public sealed record MappedMagnet
{
    internal MappedMagnet(int station, char letter, PlacedMagnet placed, Length position, Polarity stationPolarity)
    {
        Station = station;
        Mark = string.Create(CultureInfo.InvariantCulture, $"{station}{letter}");
        Body = placed.Body;
        Along = position + placed.Along;
        Across = placed.Across;
        Up = placed.Up;
        Roll = placed.Roll;
        double sign = (placed.Polarity == Polarity.Positive ? 1 : -1) * (stationPolarity == Polarity.Positive ? 1 : -1);
        (double sin, double cos) = Math.SinCos(placed.Roll.Radians);
        Direction = sign * (placed.Body.Magnetization switch
        {
            TrackAxis.Along => new Vector3D(1, 0, 0),
            TrackAxis.Across => new Vector3D(0, cos, sin),
            _ => new Vector3D(0, -sin, cos),
        });
    }

    /// <summary>Number of its station, 1 for the first one.</summary>
    public int Station { get; }

    /// <summary>Its mark: the station's number and a letter, from a on.</summary>
    public string Mark { get; }

    /// <summary>The magnet.</summary>
    public MagnetBody Body { get; }

    /// <summary>x of its middle in the track's frame.</summary>
    public Length Along { get; }

    /// <summary>y of its middle from the middle of the coil's path.</summary>
    public Length Across { get; }

    /// <summary>z of its middle from the middle of the coil's path.</summary>
    public Length Up { get; }

    /// <summary>How far it is turned about its line along the track.</summary>
    public Angle Roll { get; }

    /// <summary>Where its north face looks, in words.</summary>
    public string North
    {
        get
        {
            string axis = Math.Abs(Direction.X) > 0.5
                ? Direction.X > 0 ? "forward (+x)" : "backward (−x)"
                : Math.Abs(Direction.Y) >= Math.Abs(Direction.Z)
                    ? Direction.Y > 0 ? "+y" : "−y"
                    : Direction.Z > 0 ? "up (+z)" : "down (−z)";
            return TowardPath switch
            {
                true => $"{axis}, toward the path",
                false => $"{axis}, away from the path",
                _ => axis,
            };
        }
    }

    /// <summary>Whether the north face looks toward the middle of the coil's path; null where it looks along the track or past the path.</summary>
    public bool? TowardPath
    {
        get
        {
            double distance = Math.Sqrt((Across.Meters * Across.Meters) + (Up.Meters * Up.Meters));
            if (distance == 0)
            {
                return null;
            }

            double outward = ((Direction.Y * Across.Meters) + (Direction.Z * Up.Meters)) / distance;
            return outward < -0.7 ? true : outward > 0.7 ? false : null;
        }
    }

    /// <summary>What the coil meets: N or S for the face toward the path, an arrow for a magnet along the track or past the path.</summary>
    public string Face => TowardPath switch
    {
        true => "N",
        false => "S",
        _ => Math.Abs(Direction.X) > 0.5
            ? Direction.X > 0 ? "→" : "←"
            : Math.Abs(Direction.Y) >= Math.Abs(Direction.Z) ? Direction.Y > 0 ? "+y" : "−y" : Direction.Z > 0 ? "↑" : "↓",
    };

    /// <summary>Direction from south to north face, a unit vector.</summary>
    internal Vector3D Direction { get; }

    /// <summary>The magnet in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Mark}: {Body.Grade.Name} at x {Show.Quantity(Along)}, y {Show.Quantity(Across)}, north {North}";
}
