using ShopDiag.Diagnosis.Wire;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Wire;

/// <summary>Decoded messages as JSON, one a line; numbers to six significant decimals at most.</summary>
public static class ObdJson
{
    /// <summary>
    /// One message: <c>{"line":2,"t":0.01,"from":"7E8","kind":"values","service":"01","values":[{"pid":"0C","name":"rpm","value":1726,"unit":"rpm"}]}</c>. Kinds: request, values,
    /// freeze-frame, codes, cleared, tests, vehicle, refusal, unread. Absent members are not said; <c>remarks</c> stand at the end.
    /// </summary>
    public static string Write(ObdRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return JsonLine.Of(json => RecordJson.Write(json, record));
    }

    /// <summary>Something that could not be read: <c>{"kind":"problem","line":3,"message":".."}</c>.</summary>
    public static string Write(LogProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        return JsonLine.Of(json =>
        {
            json.WriteString("kind", "problem");
            if (problem.Line > 0)
            {
                json.WriteNumber("line", problem.Line);
            }

            json.WriteString("message", problem.Message);
        });
    }

    /// <summary>What the log comes to: <c>{"kind":"summary",...}</c> with units, vins, codes, freezeFrames, monitors, trims, misfires, speed and remarks.</summary>
    public static string Write(ObdFindings findings, ObdLog log)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(log);
        return JsonLine.Of(json => SummaryJson.Write(json, findings, log));
    }
}
