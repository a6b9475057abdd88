using System.Collections.Concurrent;
using System.Text.Json;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>
/// Assessments by version of the order, shared by all pages of the process: two tablets on one order do not work it out twice.
/// The work is done off the circuit's own thread, so that typing never waits for it.
/// </summary>
public sealed class Assessments(Knowledge knowledge)
{
    /// <summary>More orders than a shop has open at once; beyond it the memory is emptied.</summary>
    private const int Most = 200;

    private readonly ConcurrentDictionary<Guid, (string Version, Lazy<Task<Assessment>> Assessment)> _latest = new();

    /// <summary>What the order's workup adds up to.</summary>
    public Task<Assessment> OfAsync(RepairOrder order, Workup workup)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(workup);
        if (_latest.Count > Most)
        {
            _latest.Clear();
        }

        var version = VersionOf(order, workup);
        return _latest.AddOrUpdate(order.Id, _ => Made(version, workup), (_, known) => known.Version == version ? known : Made(version, workup)).Assessment.Value;
    }

    private (string, Lazy<Task<Assessment>>) Made(string version, Workup workup) =>
        (version, new(() => Task.Run(() => Diagnostician.Assess(workup, knowledge))));

    // Readings are append-only: their number says which there are. What cannot be taken ends, and is told in full.
    private static string VersionOf(RepairOrder order, Workup workup) =>
        $"{order.Readings.Length}|{JsonSerializer.Serialize(workup.Obstacles)}|{JsonSerializer.Serialize(workup.Concern)}|{JsonSerializer.Serialize(workup.Shop)}|{JsonSerializer.Serialize(workup.Engine.Spec)}";
}
