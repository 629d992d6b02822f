using UnitsNet;

namespace Magrail;

/// <summary>What makes a real launch differ from the ideal one: a source of constant voltage, a coil of copper, and nothing that resists.</summary>
/// <remarks>
/// Each can be taken away by <see cref="LaunchEffects.Without"/> or kept alone by <see cref="LaunchEffects.WithOnly"/>. The resistance and the
/// inductance of the coil itself, its temperature at the start and its mass stay in the ideal launcher; so do strips, magnets and payload.
/// </remarks>
public enum LaunchEffect
{
    /// <summary>Internal resistance of the source.</summary>
    SourceResistance,

    /// <summary>The fall of a capacitor bank's voltage as it gives up its charge.</summary>
    BankDischarge,

    /// <summary>Current limit of a bench supply.</summary>
    CurrentLimit,

    /// <summary>Resistance of the leads.</summary>
    Leads,

    /// <summary>Resistance of the bus bars.</summary>
    BusBars,

    /// <summary>Resistance of the closed switch.</summary>
    SwitchResistance,

    /// <summary>Bounce of the switch.</summary>
    SwitchBounce,

    /// <summary>Resistance of the sliding contacts.</summary>
    ContactResistance,

    /// <summary>The growth of that resistance as the overlap of brush and strip shrinks. It needs <see cref="ContactResistance"/>.</summary>
    ContactOverlap,

    /// <summary>The drop of the brushes: a voltage against the current that does not depend on its size.</summary>
    BrushDrop,

    /// <summary>The arc at a parting contact; without it, the ideal break.</summary>
    Arc,

    /// <summary>What lies across the coils; without it, the ideal break or the bare arc.</summary>
    Suppressor,

    /// <summary>The rise of the coils' resistance during the launch.</summary>
    CoilWarming,

    /// <summary>Dry friction in the guide and under the brushes.</summary>
    DryFriction,

    /// <summary>Dry friction by the lateral magnet force. It needs <see cref="DryFriction"/>.</summary>
    LateralFriction,

    /// <summary>Viscous friction.</summary>
    ViscousFriction,

    /// <summary>Drag of the air.</summary>
    Drag,

    /// <summary>Slope of the track, uphill a loss and downhill a gain.</summary>
    Slope,
}

/// <summary>Takes effects away from a launcher, or leaves one alone.</summary>
/// <remarks>
/// Every method returns a launcher like the one given; where there is nothing to take away, the one given. A taken-away effect is truly absent, not small.
/// A source without internal resistance is described as a bench supply of the same voltage, since a battery pack always has some.
/// </remarks>
public static class LaunchEffects
{
    /// <summary>Every effect, in the order of the enumeration: from the source to the sled.</summary>
    public static IReadOnlyList<LaunchEffect> All { get; } = Enum.GetValues<LaunchEffect>();

    /// <summary>The effect without which another cannot be: resistance without which none grows, friction without which no load rubs. Null for none.</summary>
    /// <param name="effect">The effect.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such effect.</exception>
    public static LaunchEffect? NeededBy(LaunchEffect effect)
        => Require.Defined(effect, "effects are listed") switch
        {
            LaunchEffect.ContactOverlap => LaunchEffect.ContactResistance,
            LaunchEffect.LateralFriction => LaunchEffect.DryFriction,
            _ => null,
        };

    /// <summary>The effects that a launcher has, from the source to the sled.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    public static IReadOnlyList<LaunchEffect> Effects(this Launcher launcher)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        return [.. All.Where(launcher.Has)];
    }

    /// <summary>Whether a launcher has an effect.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="effect">The effect.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">There is no such effect.</exception>
    public static bool Has(this Launcher launcher, LaunchEffect effect)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        GuideFriction friction = launcher.Sled.Friction;
        (Brush upper, Brush lower) = (launcher.Contacts.UpperBrush, launcher.Contacts.LowerBrush);
        return Require.Defined(effect, "effects are listed") switch
        {
            LaunchEffect.SourceResistance => launcher.Source.ToSi().Resistance > 0,
            LaunchEffect.BankDischarge => launcher.Source is CapacitorBank,
            LaunchEffect.CurrentLimit => launcher.Source is BenchSupply { Limit: not null },
            LaunchEffect.Leads => launcher.Leads.Resistance.Ohms > 0,
            LaunchEffect.BusBars => launcher.BusBars is { Resistance.Ohms: > 0 },
            LaunchEffect.SwitchResistance => launcher.Switch.Resistance.Ohms > 0,
            LaunchEffect.SwitchBounce => launcher.Switch.Bounce.Length > 0,
            LaunchEffect.ContactResistance => upper.Resistance.Ohms > 0 || lower.Resistance.Ohms > 0,
            LaunchEffect.ContactOverlap => Grows(upper) || Grows(lower),
            LaunchEffect.BrushDrop => upper.Drop.Volts > 0 || lower.Drop.Volts > 0,
            LaunchEffect.Arc => launcher.Arc is not null,
            LaunchEffect.Suppressor => launcher.Suppressor is not IdealBreakSuppressor,
            LaunchEffect.CoilWarming => launcher.CoilsWarmUp,
            LaunchEffect.DryFriction => friction.AtRest > 0,
            LaunchEffect.LateralFriction => launcher.HasSideForce(launcher.Sled.Coils, TrackAxis.Across) || launcher.HasSideForce(launcher.Sled.Coils, TrackAxis.Up),
            LaunchEffect.ViscousFriction => friction.ViscousAtOneMeterPerSecond.Newtons > 0,
            LaunchEffect.Drag => launcher.Sled.DragArea.SquareMeters > 0 && launcher.AirDensity.KilogramsPerCubicMeter > 0,
            _ => launcher.Slope.Radians != 0,
        };
    }

    /// <summary>The same launcher without an effect, and without what cannot be without it: see <see cref="NeededBy"/>.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="effect">The effect.</param>
    /// <returns>A launcher that does not have the effect; the one given where it did not.</returns>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">There is no such effect.</exception>
    public static Launcher Without(this Launcher launcher, LaunchEffect effect)
    {
        if (!launcher.Has(effect))
        {
            return launcher;
        }

        Sled sled = launcher.Sled;
        GuideFriction friction = sled.Friction;
        return effect switch
        {
            LaunchEffect.SourceResistance => launcher with { Source = WithoutResistance(launcher.Source) },
            LaunchEffect.BankDischarge => launcher with { Source = ConstantVoltageOf((CapacitorBank)launcher.Source) },
            LaunchEffect.CurrentLimit => launcher with { Source = Unlimited((BenchSupply)launcher.Source) },
            LaunchEffect.Leads => launcher with { Leads = Magrail.Leads.Ideal },
            LaunchEffect.BusBars => launcher with { BusBars = null },
            LaunchEffect.SwitchResistance => launcher with { Switch = new StartSwitch(ElectricResistance.Zero, launcher.Switch.Bounce) },
            LaunchEffect.SwitchBounce => launcher with { Switch = new StartSwitch(launcher.Switch.Resistance) },
            LaunchEffect.ContactResistance => WithBrushes(launcher, brush => brush.WithoutResistance()),
            LaunchEffect.ContactOverlap => WithBrushes(launcher, brush => brush.AtFullOverlap()),
            LaunchEffect.BrushDrop => WithBrushes(launcher, brush => brush with { Drop = ElectricPotential.Zero }),
            LaunchEffect.Arc => launcher with { Arc = null },
            LaunchEffect.Suppressor => launcher with { Suppressor = Magrail.Suppressor.IdealBreak },
            LaunchEffect.CoilWarming => launcher with { CoilsWarmUp = false },
            LaunchEffect.DryFriction => launcher with { Sled = sled with { Friction = new GuideFriction(0, 0, friction.ViscousAtOneMeterPerSecond) } },
            LaunchEffect.LateralFriction => launcher with { Sled = sled with { Friction = friction with { CountsLateralForce = false } } },
            LaunchEffect.ViscousFriction => launcher with
            {
                Sled = sled with { Friction = new GuideFriction(friction.Sliding, friction.AtRest) { CountsLateralForce = friction.CountsLateralForce } },
            },
            LaunchEffect.Drag => launcher with { Sled = sled with { DragArea = Area.Zero } },
            _ => launcher with { Slope = Angle.Zero },
        };
    }

    /// <summary>The same launcher without every effect but those named.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="effects">
    /// The effects to keep, as far as the launcher has them. One that needs another (see <see cref="NeededBy"/>) is kept only together with it.
    /// </param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">There is no such effect.</exception>
    public static Launcher WithOnly(this Launcher launcher, params IReadOnlyCollection<LaunchEffect> effects)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        ArgumentNullException.ThrowIfNull(effects);
        foreach (LaunchEffect effect in effects)
        {
            Require.Defined(effect, "effects are listed", nameof(effects));
        }

        return All.Except(effects).Aggregate(launcher, Without);
    }

    /// <summary>The same launcher without any effect: constant voltage on a coil that keeps its resistance, with nothing else in the way.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    public static Launcher Ideal(this Launcher launcher) => launcher.WithOnly();

    /// <summary>An effect as people name it.</summary>
    internal static string NameOf(LaunchEffect effect) => effect switch
    {
        LaunchEffect.SourceResistance => "source resistance",
        LaunchEffect.BankDischarge => "falling voltage of the bank",
        LaunchEffect.CurrentLimit => "current limit",
        LaunchEffect.Leads => "leads",
        LaunchEffect.BusBars => "bus bars",
        LaunchEffect.SwitchResistance => "switch resistance",
        LaunchEffect.SwitchBounce => "switch bounce",
        LaunchEffect.ContactResistance => "contact resistance",
        LaunchEffect.ContactOverlap => "contact resistance by overlap",
        LaunchEffect.BrushDrop => "brush drop",
        LaunchEffect.Arc => "arc",
        LaunchEffect.Suppressor => "suppressor",
        LaunchEffect.CoilWarming => "warming of the coils",
        LaunchEffect.DryFriction => "dry friction",
        LaunchEffect.LateralFriction => "friction by the lateral force",
        LaunchEffect.ViscousFriction => "viscous friction",
        LaunchEffect.Drag => "drag",
        _ => "slope",
    };

    private static bool Grows(Brush brush) => brush.FollowsOverlap && brush.Resistance.Ohms > 0;

    private static PowerSource WithoutResistance(PowerSource source) => source switch
    {
        CapacitorBank bank => new CapacitorBank(bank.Capacitance, bank.InitialVolts, ElectricResistance.Zero),
        BatteryPack pack => new BenchSupply(pack.OpenCircuitVolts),
        BenchSupply supply => new BenchSupply(supply.Volts, supply.Limit),
        _ => throw new NotSupportedException($"{source} is a source of an unknown kind."),
    };

    private static BenchSupply ConstantVoltageOf(CapacitorBank bank) => new(bank.InitialVolts, null, bank.SeriesResistance);

    private static BenchSupply Unlimited(BenchSupply supply) => new(supply.Volts, null, supply.OutputResistance);

    private static Launcher WithBrushes(Launcher launcher, Func<Brush, Brush> change) => launcher with { Contacts = launcher.Contacts.WithBrushes(change) };
}
