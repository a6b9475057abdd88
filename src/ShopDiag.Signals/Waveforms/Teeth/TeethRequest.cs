using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>Pulses, one a working cycle, that tell a cylinder from its companion: a cam sensor's or an ignition's.</summary>
/// <param name="Times">Seconds, on the clock of the tooth times, in order.</param>
/// <param name="Cylinder">The cylinder they belong to.</param>
/// <param name="DegreesBefore">Degrees of crank from the pulse to top dead centre of that cylinder's compression, -360 to 360. On a wheel with a gap 90 degrees of error do no harm;
/// on a plain wheel the figure places all cylinders and must be right within 10.</param>
public sealed record CycleSync(ImmutableArray<double> Times, int Cylinder, double DegreesBefore);

/// <summary>What must be known to read tooth times.</summary>
public sealed record TeethRequest
{
    /// <summary>The wheel.</summary>
    public required ToothWheel Wheel { get; init; }

    /// <summary>The firing order, each cylinder once: 3 to 12 of them, evenly firing, four-stroke.</summary>
    public required ImmutableArray<int> FiringOrder { get; init; }

    /// <summary>Degrees of crank from the first tooth after the gap to top dead centre of the cylinder that is first in the firing order (either stroke's), 0 to 360. The maker's figure;
    /// right within 10. Not used on a plain wheel.</summary>
    public double TopAfterGap { get; init; }

    /// <summary>Pulses that tell a cylinder from its companion; null without. A plain wheel needs them.</summary>
    public CycleSync? Sync { get; init; }

    /// <summary>Where this wheel's teeth truly stand, learnt from a stretch without fuel; null when there was none.</summary>
    public ToothErrors? Errors { get; init; }
}
