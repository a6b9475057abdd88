using ShopDiag.Diagnosis.Wire;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Wire;

internal static class WireText
{
    public static string Of(Assessment assessment) => AssessmentJson.Write(assessment);
}
