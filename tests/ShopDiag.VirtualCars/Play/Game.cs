using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Cars;

namespace ShopDiag.VirtualCars.Play;

/// <summary>A repair that somebody decided on, and what came of it.</summary>
/// <param name="Cause">What was diagnosed.</param>
/// <param name="At">Where.</param>
/// <param name="Proven">True for a diagnosis, false for a part tried to see.</param>
/// <param name="Right">It names a hidden fault that was still there.</param>
/// <param name="Mended">It ended a hidden fault, under its own name or another.</param>
internal sealed record Verdict(string Cause, Place At, bool Proven, bool Right, bool Mended);

/// <summary>What is seen along the way, for a trace.</summary>
internal interface IWatcher
{
    /// <summary>Readings were taken.</summary>
    void Took(BenchTest test, IReadOnlyList<Reading> readings, double minutes, Game game);

    /// <summary>A repair was made.</summary>
    void Repaired(Verdict verdict, Game game);

    /// <summary>The reasoning was looked at.</summary>
    void Assessed(Assessment assessment);
}

/// <summary>
/// One car in the bay with the workup that grows: what a policy may do (take readings, repair, look at the assessment), with the minutes and parts
/// counted alike for all policies. The truth stays with the referee; a policy sees readings only.
/// </summary>
internal sealed class Game
{
    private readonly IVirtualCar _car;
    private readonly BenchClock _clock;
    private readonly Dictionary<(string Test, Place At), int> _takes = [];
    private readonly HashSet<(string Test, Place At)> _impossible = [];
    private readonly List<HiddenFault> _left;
    private readonly List<Verdict> _verdicts = [];
    private readonly IWatcher? _watcher;
    private Assessment? _assessment;

    public Game(IVirtualCar car, Knowledge knowledge, IWatcher? watcher = null)
    {
        (_car, Knowledge, _watcher) = (car, knowledge, watcher);
        _clock = new BenchClock(car.Engine, knowledge);
        _left = [.. car.Faults];
        Workup = new Workup { Engine = car.Engine, Concern = car.Concern, Shop = new ShopSetup { Tools = [.. knowledge.Tests.SelectMany(t => t.Tools).Distinct().Except(car.MissingTools)] } };
    }

    public Knowledge Knowledge { get; }

    public Engine Engine => _car.Engine;

    /// <summary>The workup so far.</summary>
    public Workup Workup { get; private set; }

    /// <summary>Before, until something was repaired.</summary>
    public Stage Stage { get; private set; }

    /// <summary>Bench minutes so far, without those of repairs that were right.</summary>
    public double Minutes => _clock.Minutes;

    /// <summary>Rounds of readings and tried repairs so far.</summary>
    public int Steps { get; private set; }

    /// <summary>Parts bought that mended nothing.</summary>
    public int NeedlessParts { get; private set; }

    /// <summary>The repairs in order.</summary>
    public IReadOnlyList<Verdict> Verdicts => _verdicts;

    /// <summary>The faults that are still hidden, for the referee.</summary>
    public IReadOnlyList<HiddenFault> Left => _left;

    /// <summary>For the referee, who stops every policy once the car runs well: true while it still misfires.</summary>
    public bool StillMisfires => _car.StillMisfires;

    /// <summary>What the readings add up to now.</summary>
    public Assessment Assessment
    {
        get
        {
            if (_assessment is null)
            {
                _assessment = Diagnostician.Assess(Workup, Knowledge);
                _watcher?.Assessed(_assessment);
            }

            return _assessment;
        }
    }

    /// <summary>True when the test fits the engine and this car lets itself be measured so.</summary>
    public bool CanTake(string test, Place at) => Knowledge.Test(test) is { } known && known.Fits(Engine) && known.Takes(at.Kind) && !_impossible.Contains((test, at));

    /// <summary>How often a test was taken at a place since the last repair.</summary>
    public int Takes(string test, Place at) => _takes.GetValueOrDefault((test, at));

    /// <summary>The places that an advice means: all that still lack an outcome where it names the engine for a cylinder's or bank's test.</summary>
    public ImmutableArray<Place> PlacesOf(BenchTest test, Place at)
    {
        ArgumentNullException.ThrowIfNull(test);
        if (!test.Takes(at.Kind) && at != Place.Engine)
        {
            // A check named at the repaired cylinder, of a test that is read by bank or engine, means those that the cylinder belongs to.
            return [.. test.PlacesOn(Engine).Where(p => Engine.CylindersAt(p).Intersect(Engine.CylindersAt(at)).Any())];
        }

        if (at != Place.Engine || test.Scope == TestScope.Engine || test.AlsoScopes.Contains(TestScope.Engine))
        {
            return [at];
        }

        var all = test.PlacesOn(Engine);
        var told = Assessment.Findings.Where(f => f.Test == test.Id && f.Outcome is not null && f.Stage == Stage).Select(f => f.At).ToHashSet();
        var open = all.Where(p => !told.Contains(p)).ToImmutableArray();
        return open.IsEmpty ? all : open;
    }

    /// <summary>Takes readings; false when none could be had.</summary>
    public bool Take(string test, params IReadOnlyCollection<Place> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        var known = Knowledge.Test(test)!;
        var readings = new List<Reading>();
        var read = new List<Place>();
        foreach (var place in places)
        {
            _takes[(test, place)] = Takes(test, place) + 1;
            if (CanTake(test, place) && _car.Take(known, place, Stage) is { } reading)
            {
                readings.Add(reading);
                read.Add(place);
            }
            else if (_impossible.Add((test, place)) && known.Fits(Engine) && known.Takes(place.Kind))
            {
                // Told to the program, which plans without the test from now on. No minutes are counted, for any policy.
                Workup = Workup with { Obstacles = Workup.Obstacles.Add(new Obstacle(test, Place.Engine)) };
                _assessment = null;
            }
        }

        if (readings.Count == 0)
        {
            return false;
        }

        var minutes = _clock.Take(known, read);
        Steps++;
        Workup = Workup with { Readings = Workup.Readings.AddRange(readings) };
        _assessment = null;
        _watcher?.Took(known, readings, minutes, this);
        return true;
    }

    /// <summary>
    /// Repairs what was diagnosed (its minutes are not diagnosis) or, with <paramref name="proven"/> false, tries a part to see: then its labour and
    /// parts count, and when it mended nothing a part was bought needlessly.
    /// </summary>
    public Verdict Repair(string cause, Place at, bool proven)
    {
        var right = _left.FirstOrDefault(f => Truth.Names(cause, at, f, Engine));
        if (right is not null)
        {
            _left.Remove(right);
        }

        var sound = cause == Truth.NotAMisfire;
        var mended = !sound && _car.Repair(cause, at);
        // Mended under its own name too where the names differ but mean one thing.
        if (right is not null && !mended)
        {
            mended = _car.Repair(right.Cause, right.At);
        }

        // A part that was only tried and ended the trouble has done what it was bought for, whatever it is called.
        if (right is null && mended && !proven)
        {
            right = _left.FirstOrDefault(f => Engine.CylindersAt(f.At).Any(Engine.CylindersAt(at).Contains)) ?? _left.FirstOrDefault();
            _left.Remove(right!);
        }

        var verdict = new Verdict(cause, at, proven, right is not null || (sound && _car.Faults.IsEmpty), mended);
        _verdicts.Add(verdict);
        var entry = Knowledge.Cause(cause);
        if (!proven && entry is not null)
        {
            Steps++;
            // The repair that mends is due in any case; work and parts in vain are lost.
            _clock.Add(mended ? 0 : RepairPlan.For(Engine, [(entry, at)]).LabourMinutes + entry.Repair.PartsInMinutes);
        }

        if (!mended && !sound && (entry is null || !entry.Repair.Parts.IsEmpty))
        {
            NeedlessParts++;
        }

        if (Stage == Stage.After)
        {
            Workup = SinceLastRepair();
        }

        if (!proven)
        {
            Workup = Workup with { TriedRepairs = Workup.TriedRepairs.Add(new ProvenCause(cause, at)) };
        }

        _clock.CloseUp();
        _takes.Clear();
        Stage = Stage.After;
        _assessment = null;

        _watcher?.Repaired(verdict, this);
        return verdict;
    }

    // With a second repair the readings after the first become those before it: what was read earlier stays where no repair reached, and what was
    // repaired is told as such.
    private Workup SinceLastRepair()
    {
        var earlier = _verdicts.SkipLast(1).ToArray();
        var reached = earlier.Where(v => v.Proven).SelectMany(v => Engine.CylindersAt(v.At)).ToHashSet();
        return Workup with
        {
            Readings =
            [
                .. Workup.Readings
                    .Where(r => r.Stage == Stage.After || (r.At.Kind == PlaceKind.Cylinder && !reached.Contains(r.At.First)))
                    .Select(r => r with { Stage = Stage.Before }),
            ],
            TriedRepairs = [.. earlier.Select(v => new ProvenCause(v.Cause, v.At))],
        };
    }
}
