using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Sleds;

/// <summary>Flights against the parabola and the closed forms of quadratic drag; the speed that a wing needs; the clear zone.</summary>
public class PayloadFlightTests
{
    private const double G = 9.80665;

    private static readonly AccuracyRow Parabola = new("flight without drag, time and impact speed, generated throws", "parabola", 1e-9, "of them");
    private static readonly AccuracyRow DragFall = new("fall from 100 m with quadratic drag, time and speed", "closed form", 1e-9, "s and m/s");
    private static readonly AccuracyRow DragThrow = new("throw upward with quadratic drag, height, time, impact speed", "closed forms", 1e-8, "of them");
    private static readonly AccuracyRow Wing = new("1.2 times the stall speed of an airliner, 306 km/h and 202 km/h", "Y. A. Cengel, J. M. Cimbala, Fluid Mechanics, example 11-5", 0.5, "km/h");

    /// <summary>The parabola: range, apex, time, impact speed, for any angle and height.</summary>
    [RepeatableProperty]
    public void Vacuum(ushort a, ushort b, ushort c)
    {
        double v = 1 + (a / 1000.0), degrees = -80 + (b * 169 / 65535.0), h = c % 5 == 0 && degrees > 1 ? 0 : 0.01 + (c / 3000.0);
        PayloadFlight flight = PayloadFlight.Of(100.Grams(), Area.Zero, v.MetersPerSecond(), degrees.Degrees(), h.Meters());
        double up = v * Math.Sin(degrees * Math.PI / 180), along = v * Math.Cos(degrees * Math.PI / 180);
        double time = (up + Math.Sqrt((up * up) + (2 * G * h))) / G;
        Parabola.HoldRatio(time, flight.FlightTime.Seconds);
        Assert.Equal(along * time, flight.Range.Meters, 1e-9 * (1 + (v * time)));
        Assert.Equal(up > 0 ? h + (up * up / (2 * G)) : h, flight.ApexHeight.Meters, 1e-9 * (h + (v * v)));
        Assert.Equal(up > 0 ? up / G : 0, flight.ApexTime.Seconds, 1e-9 * time);
        Parabola.HoldRatio(Math.Sqrt((v * v) + (2 * G * h)), flight.ImpactSpeed.MetersPerSecond);
        Assert.Equal(0.5 * 0.1 * ((v * v) + (2 * G * h)), flight.ImpactEnergy.Joules, 1e-8 * v * v);
        Assert.Equal(0, flight.Drift.Meters);
    }

    /// <summary>Free fall with quadratic drag, terminal speed 40 m/s, 100 m: 4.98832041503 s, 33.6210977644 m/s (closed form: v = v_t tanh(g t/v_t)).</summary>
    [Fact]
    public void Fall_with_drag()
    {
        // ½ ρ CdA v_t² = m g.
        double area = 2 * G / (1.225 * 1600);
        PayloadFlight flight = PayloadFlight.Of(1.Kilograms(), Area.FromSquareMeters(area), Speed.Zero, 0.Degrees(), 100.Meters());
        DragFall.HoldDifference(4.98832041503, flight.FlightTime.Seconds);
        DragFall.HoldDifference(33.6210977644, flight.ImpactSpeed.MetersPerSecond);
        Assert.Equal(90, flight.ImpactAngle.Degrees, 1e-9);
        Assert.Equal(0, flight.Range.Meters);
    }

    /// <summary>
    /// Drag alone, 0.145 kg, C_d 0.35, radius 37 mm: over 20 m the speed falls from 40 m/s to 35.22330912 m/s in 0.53318452 s (closed form: v = v₀ exp(−k x)). The
    /// same path at ten thousand times the speed takes a ten-thousandth of the time, and gravity has none.
    /// </summary>
    [Fact]
    public void Drag_alone()
    {
        const double Faster = 1e4;
        Area area = Area.FromSquareMeters(0.35 * Math.PI * 0.037 * 0.037);
        PayloadFlight flight = PayloadFlight.Of(0.145.Kilograms(), area, (40 * Faster).MetersPerSecond(), 0.Degrees(), 1.Meters());
        Duration time = (0.53318452 / Faster).Seconds();
        Assert.Equal(20, flight.PositionAt(time).Ahead.Meters, 3e-7);
        Assert.Equal(35.22330912, flight.SpeedAt(time).MetersPerSecond / Faster, 1e-7);
    }

    /// <summary>Thrown straight up with drag, impact speed v v_t/√(v² + v_t²) (closed form by energy over height), apex v_t²/(2 g) ln(1 + v²/v_t²).</summary>
    [RepeatableProperty(50)]
    public void Up_and_down_with_drag(ushort a, ushort b)
    {
        double v = 5 + (a / 1000.0), vt = 5 + (b / 1000.0);
        Area area = Area.FromSquareMeters(2 * 0.2 * G / (1.225 * vt * vt));
        PayloadFlight flight = PayloadFlight.Of(200.Grams(), area, v.MetersPerSecond(), 90.Degrees(), Length.Zero);
        DragThrow.HoldRatio(vt * vt / (2 * G) * Math.Log(1 + (v * v / (vt * vt))), flight.ApexHeight.Meters);
        DragThrow.HoldRatio(vt / G * Math.Atan(v / vt), flight.ApexTime.Seconds);
        DragThrow.HoldRatio(v * vt / Math.Sqrt((v * v) + (vt * vt)), flight.ImpactSpeed.MetersPerSecond);
    }

    /// <summary>Wind is a moving frame: the flight in wind w is the windless flight of the relative velocity, carried along by w.</summary>
    [RepeatableProperty(50)]
    public void Wind_is_a_moving_frame(ushort a, ushort b)
    {
        double wind = -8 + (a / 4000.0), v = 10 + (b / 4000.0);
        Area area = 50.SquareCentimeters();
        PayloadFlight windy = PayloadFlight.Of(100.Grams(), area, v.MetersPerSecond(), 30.Degrees(), 1.Meters(), headwind: wind.MetersPerSecond());
        double along = (v * Math.Cos(Math.PI / 6)) + wind, up = v * 0.5;
        double relative = Math.Sqrt((along * along) + (up * up));
        PayloadFlight still = PayloadFlight.Of(100.Grams(), area, relative.MetersPerSecond(), Angle.FromRadians(Math.Atan2(up, along)), 1.Meters());
        Assert.Equal(still.FlightTime.Seconds, windy.FlightTime.Seconds, 1e-8);
        Assert.Equal(still.Range.Meters - (wind * still.FlightTime.Seconds), windy.Range.Meters, 1e-7);

        PayloadFlight aside = PayloadFlight.Of(100.Grams(), area, v.MetersPerSecond(), 30.Degrees(), 1.Meters(), crosswind: wind.MetersPerSecond());
        Assert.Equal(Math.Sign(wind), Math.Sign(aside.Drift.Meters));
        Assert.True(Math.Abs(aside.Drift.Meters) < Math.Abs(wind) * aside.FlightTime.Seconds);
    }

    /// <summary>A sheet of paper ends up falling at its terminal speed, √(2 m g/(ρ C_d A)), and drifting with the wind.</summary>
    [Fact]
    public void What_is_light_falls_with_the_wind()
    {
        PayloadFlight flight = PayloadFlight.Of(5.Grams(), Area.FromSquareMeters(0.06), 30.MetersPerSecond(), 60.Degrees(), 20.Meters(), (-3).MetersPerSecond(), 4.MetersPerSecond());
        double terminal = Math.Sqrt(2 * 0.005 * G / (1.225 * 0.06));
        Assert.Equal(Math.Sqrt((terminal * terminal) + 25), flight.ImpactSpeed.MetersPerSecond, 1e-6);
        Assert.Equal(terminal, flight.ImpactSpeed.MetersPerSecond * Math.Sin(flight.ImpactAngle.Radians), 1e-6);
        Assert.Equal(0.75, flight.Range.Meters / flight.Drift.Meters, 0.2);
    }

    [Fact]
    public void No_flight_from_the_ground_downward()
    {
        PayloadFlight flight = PayloadFlight.Of(100.Grams(), Area.Zero, 10.MetersPerSecond(), (-30).Degrees(), Length.Zero);
        Assert.Equal(Duration.Zero, flight.FlightTime);
        Assert.Equal(10, flight.ImpactSpeed.MetersPerSecond, 1e-12);
        Assert.Equal(10, flight.SpeedAt(Duration.Zero).MetersPerSecond, 1e-12);
        Assert.Equal(Length.Zero, flight.PositionAt(Duration.Zero).Height);
    }

    [Fact]
    public void Wrong_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => PayloadFlight.Of(Mass.Zero, Area.Zero, 1.MetersPerSecond(), 0.Degrees(), 1.Meters()));
        Assert.Throws<ArgumentOutOfRangeException>(() => PayloadFlight.Of(1.Kilograms(), Area.Zero, 1.MetersPerSecond(), 91.Degrees(), 1.Meters()));
        Assert.Throws<ArgumentOutOfRangeException>(() => PayloadFlight.Of(1.Kilograms(), Area.Zero, 1.MetersPerSecond(), 0.Degrees(), (-1).Meters()));
        PayloadFlight flight = PayloadFlight.Of(1.Kilograms(), Area.Zero, 1.MetersPerSecond(), 0.Degrees(), 1.Meters());
        Assert.Throws<ArgumentOutOfRangeException>(() => flight.SpeedAt(10.Seconds()));
        Assert.Contains("lands with", flight.ToString(), StringComparison.Ordinal);
    }

    /// <summary>
    /// Cengel and Cimbala, Fluid Mechanics, example 11-5: 70 000 kg, 150 m², air of 1.20 kg/m³, C_L,max 1.52 and 3.48; 1.2 times the stall speed is 306 km/h and
    /// 202 km/h (they take g = 9.81 m/s²).
    /// </summary>
    [Theory]
    [InlineData(1.52, 306)]
    [InlineData(3.48, 202)]
    public void An_airliner_needs(double lift, double kilometersPerHour)
    {
        var airliner = new WingedPayload(70000.Kilograms(), Area.FromSquareMeters(150), lift) { AirDensity = Density.FromKilogramsPerCubicMeter(1.20) };
        Wing.HoldDifference(kilometersPerHour, airliner.NeededSpeed.KilometersPerHour);
    }

    [Fact]
    public void Wind_and_margin_of_a_glider()
    {
        var glider = new WingedPayload(300.Grams(), Area.FromSquareMeters(0.12), 1.1);
        Assert.Equal(Math.Sqrt(2 * 0.3 * G / (1.225 * 0.12 * 1.1)), glider.StallSpeed.MetersPerSecond, 1e-12);
        Assert.Equal(1.2 * glider.StallSpeed.MetersPerSecond, glider.NeededSpeed.MetersPerSecond, 1e-12);
        Assert.Equal(glider.NeededSpeed.MetersPerSecond - 2, (glider with { Headwind = 2.MetersPerSecond() }).NeededSpeed.MetersPerSecond, 1e-12);
        Assert.Equal(Speed.Zero, (glider with { Headwind = 50.MetersPerSecond() }).NeededSpeed);
        Assert.Null((glider with { Headwind = 50.MetersPerSecond() }).ToPayload().NeededSpeed);
        Payload payload = glider.ToPayload(500.MetersPerSecondSquared());
        Assert.Equal(glider.NeededSpeed, payload.NeededSpeed);
        Assert.Equal(glider.Mass, payload.Mass);
        Assert.Throws<ArgumentOutOfRangeException>(() => glider with { Margin = 0.9 });
        Assert.Throws<ArgumentOutOfRangeException>(() => new WingedPayload(300.Grams(), Area.Zero, 1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new WingedPayload(300.Grams(), Area.FromSquareMeters(0.12), 0));
    }

    /// <summary>Any direction, no drag, from the ground: v²/g ahead at 45°, whatever the nominal elevation.</summary>
    [Fact]
    public void A_clear_zone_covers_the_worst()
    {
        ClearZone zone = ClearZone.Of(
            100.Grams(), Area.Zero, 20.MetersPerSecond(), 0.Degrees(), Length.Zero, 10.Meters(), 0.1, elevationError: 90.Degrees(), aimError: 30.Degrees());
        double worst = 22 * 22 / G;
        Assert.Equal(worst + 10, zone.Ahead.Meters, 1e-6 * worst);
        Assert.Equal((0.5 * worst) + 10, zone.HalfWidth.Meters, 1e-6 * worst);
        Assert.Equal(10, zone.Behind.Meters, 1e-9);
        Assert.Contains("keep clear", zone.ToString(), StringComparison.Ordinal);
    }

    /// <summary>
    /// A zone with a wind and no drag area counted no wind. What may be compact or spread out flies as far as the one and drifts as far as the other; a leaf drifts nearly with the wind: w T.
    /// </summary>
    [Fact]
    public void The_wind_pushes_on_the_greatest_drag_area()
    {
        Area none = Area.Zero, leaf = Area.FromSquareMeters(0.5);
        ClearZone Zone(Area least, Area? most, double wind)
            => ClearZone.Of(40.Grams(), least, 10.MetersPerSecond(), 30.Degrees(), 1.Meters(), 2.Meters(), 0, Angle.Zero, Angle.Zero, wind.MetersPerSecond(), greatestDragArea: most);
        ClearZone still = Zone(none, null, 0), windy = Zone(none, leaf, 5);
        Assert.Equal(still.Ahead.Meters, Zone(none, leaf, 0).Ahead.Meters, 1e-12);
        Assert.True(windy.Ahead >= still.Ahead);
        double time = PayloadFlight.Of(40.Grams(), leaf, 10.MetersPerSecond(), 30.Degrees(), 1.Meters(), crosswind: 5.MetersPerSecond()).FlightTime.Seconds;
        Assert.InRange(windy.HalfWidth.Meters - 2, 0.9 * 5 * time, 5 * time);
        Assert.True(windy.Behind.Meters > 2 + (0.5 * 5 * time), windy.ToString());
        Assert.Contains("it has nothing to push on", Assert.Throws<ArgumentOutOfRangeException>(() => Zone(none, null, 5)).Message, StringComparison.Ordinal);
        Assert.Contains("the greatest is at least as large", Assert.Throws<ArgumentOutOfRangeException>(() => Zone(leaf, none, 5)).Message, StringComparison.Ordinal);
    }

    /// <summary>Random launches with errors inside the stated ones land inside the zone, even without its margin.</summary>
    [RepeatableProperty(60)]
    public void Every_launch_lands_inside(ushort a, ushort b, ushort c, ushort d, ushort e)
    {
        double v = 15, wind = 4;
        Area area = 20.SquareCentimeters();
        ClearZone zone = ClearZone.Of(80.Grams(), area, v.MetersPerSecond(), 25.Degrees(), 1.Meters(), Length.Zero, 0.1, 8.Degrees(), 6.Degrees(), wind.MetersPerSecond());
        double speed = v * (0.9 + (0.2 * a / 65535.0)), elevation = 17 + (16 * b / 65535.0), aim = (-6 + (12 * c / 65535.0)) * Math.PI / 180;
        double strength = wind * d / 65535.0, from = 2 * Math.PI * e / 65535.0;

        // Wind in the frame of the shot, which is turned by the aiming error.
        PayloadFlight flight = PayloadFlight.Of(
            80.Grams(),
            area,
            speed.MetersPerSecond(),
            elevation.Degrees(),
            1.Meters(),
            headwind: (-strength * Math.Cos(from)).MetersPerSecond(),
            crosswind: (strength * Math.Sin(from)).MetersPerSecond());
        double x = (flight.Range.Meters * Math.Cos(aim)) - (flight.Drift.Meters * Math.Sin(aim));
        double y = (flight.Range.Meters * Math.Sin(aim)) + (flight.Drift.Meters * Math.Cos(aim));
        Assert.True(x <= zone.Ahead.Meters * (1 + 1e-3) && x >= -zone.Behind.Meters, $"{x} of {zone}");
        Assert.True(Math.Abs(y) <= zone.HalfWidth.Meters, $"{y} of {zone}");
    }
}
