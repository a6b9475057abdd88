using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Estimates;
using ShopDiag.Storage.Audit;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Photos;
using ShopDiag.Storage.Programs;
using ShopDiag.Storage.Recordings;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Storage.Tests.People;

/// <summary>What is refused in the stores themselves, whatever a page showed; and whom the record names.</summary>
public sealed class ActionTests : IAsyncLifetime
{
    private readonly Acting _acting = new();
    private readonly string _folder = TestShop.NewFolder();
    private ServiceProvider _services = null!;
    private Guid _order;

    public static TheoryData<string, Permission> Actions => new()
    {
        { "open order", Permission.WorkOnOrders }, { "concern", Permission.WorkOnOrders }, { "telephone", Permission.SeeContacts }, { "e-mail", Permission.SeeContacts },
        { "price of the diagnosis", Permission.EditEstimates }, { "engine", Permission.WorkOnOrders }, { "known car", Permission.WorkOnOrders }, { "reading", Permission.WorkOnOrders }, { "obstacle", Permission.WorkOnOrders }, { "obstacle ends", Permission.WorkOnOrders },
        { "finding back", Permission.WorkOnOrders }, { "step", Permission.WorkOnOrders }, { "hand over", Permission.HandOver }, { "draft estimate", Permission.EditEstimates },
        { "add line", Permission.EditEstimates }, { "set line", Permission.EditEstimates }, { "line off", Permission.EditEstimates }, { "go on without proof", Permission.GoOnWithoutProof },
        { "approve", Permission.RecordApprovals }, { "move part", Permission.WorkOnOrders }, { "part field", Permission.WorkOnOrders }, { "comeback", Permission.AnswerComebacks },
        { "photo", Permission.WorkOnOrders }, { "caption", Permission.WorkOnOrders }, { "recording", Permission.WorkOnOrders }, { "recording off", Permission.WorkOnOrders },
        { "settings", Permission.ChangeSettings }, { "demo shop", Permission.ChangeSettings }, { "save price", Permission.EditPrices }, { "import prices", Permission.EditPrices },
        { "remove price", Permission.EditPrices }, { "add person", Permission.ManagePeople }, { "role", Permission.ManagePeople }, { "shut out", Permission.ManagePeople },
        { "reset password", Permission.ManagePeople }, { "remove PIN", Permission.ManagePeople }, { "sign out everywhere", Permission.ManagePeople }, { "forget device", Permission.ManagePeople },
        { "make token", Permission.ManagePeople }, { "revoke token", Permission.ManagePeople },
        { "own PIN", Permission.OwnSignIn }, { "own password", Permission.OwnSignIn }, { "sweep photos", Permission.KeepData }, { "sweep recordings", Permission.KeepData },
    };

    public async ValueTask InitializeAsync()
    {
        _services = await _acting.OpenAsync(_folder);
        _order = (await Get<OrderStore>().OpenAsync(Guid.NewGuid(), "Rosa")).Id;
    }

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Theory]
    [MemberData(nameof(Actions))]
    public async Task An_action_is_refused_to_those_who_lack_its_permission_and_to_nobody_else(string action, Permission needs)
    {
        foreach (var role in Enum.GetValues<PersonRole>())
        {
            _acting.Current = Acting.Somebody(role);
            var refusal = await RefusalAsync(action);
            var permitted = Permissions.Has(role, needs);
            Assert.True(permitted != refusal.Contains("may do that", StringComparison.Ordinal), $"{action} as {role}: {refusal}");
        }

        // Another program, whatever its token says.
        _acting.Current = Acting.Program();
        Assert.Contains("change nothing", await RefusalAsync(action), StringComparison.Ordinal);
        _acting.Current = Acting.Somebody(PersonRole.Owner, SignInWay.Pin);
        Assert.Equal(Permissions.NeedsPassword(needs), (await RefusalAsync(action)).Contains("A PIN is not enough", StringComparison.Ordinal));
        _acting.Current = Acting.Somebody(PersonRole.Owner, mustChange: true);
        Assert.Equal(needs != Permission.OwnSignIn, (await RefusalAsync(action)).Contains("password of your own", StringComparison.Ordinal));
        // Somebody who is signed out by now: no refusal, which would end the change, but a failure, which keeps it on the tablet.
        _acting.Current = Actor.Nobody;
        await Assert.ThrowsAsync<NotAllowedException>(() => DoAsync(action));
    }

    [Fact]
    public void Every_permission_is_asked_for_by_an_action_or_only_to_look() =>
        Assert.Equal([Permission.WorkOut, Permission.PrintPapers, Permission.PrintCustomerPapers, Permission.SeeFigures], Enum.GetValues<Permission>().Except(Actions.Select(a => a.Data.Item2)));

    [Fact]
    public async Task The_record_names_who_is_signed_in_whatever_the_caller_says()
    {
        var lena = _acting.Current = Acting.Somebody(PersonRole.Owner, name: "Lena");
        await Get<OrderStore>().SetFieldAsync(_order, OrderField.ConcernText, "Shakes", "", Guid.NewGuid(), "Somebody else");
        await Get<OrderStore>().SetEngineAsync(_order, TestShop.Four, "I4", Guid.NewGuid(), "Somebody else");
        await Get<OrderStore>().AddReadingAsync(_order, TestShop.Compression(1, 1200));
        await Get<OrderStore>().MoveAsync(_order, OrderStage.InDiagnosis, "Somebody else", "", Guid.NewGuid());
        await Get<PhotoStore>().AddAsync(Photo("Somebody else"), new byte[] { 1 }, new byte[] { 1 });
        var order = (await Get<OrderStore>().GetAsync(_order))!;
        Assert.Equal(("Lena", "Lena"), (order.Readings.Single().Reading.By, order.Moves[^1].By));
        var record = await Get<AuditStore>().OfOrderAsync(_order, null, 100);
        Assert.Equal(["add photo", "move to InDiagnosis", "add reading", "set engine", "set ConcernText", "open order"], record.Select(e => e.What));
        Assert.All(record.SkipLast(1), e => Assert.Equal(("Lena", "Tablet 1"), (e.Who, e.Device)));
        Assert.Equal(("", "Shakes"), (record[^2].Before, record[^2].After));
        Assert.Equal("Rosa", record[^1].Who);
        Assert.NotNull(lena.PersonId);
    }

    [Fact]
    public async Task A_command_that_comes_twice_stands_once_in_the_record_and_one_that_is_refused_does_not()
    {
        var id = Guid.NewGuid();
        await Get<OrderStore>().SetFieldAsync(_order, OrderField.ConcernText, "Shakes", null, id, "Rosa");
        await Get<OrderStore>().SetFieldAsync(_order, OrderField.ConcernText, "Shakes", null, id, "Rosa");
        await Get<OrderStore>().SetFieldAsync(_order, OrderField.VehicleYear, "soon", null, Guid.NewGuid(), "Rosa");
        Assert.Equal(2, (await Get<AuditStore>().OfOrderAsync(_order, null, 100)).Length);
    }

    [Fact]
    public async Task What_says_who_the_customer_is_stays_out_of_the_record()
    {
        foreach (var (field, text) in new[] { (OrderField.CustomerName, "Maud Fenwick"), (OrderField.CustomerPhone, "555 0147"), (OrderField.CustomerEmail, "maud@example.org"), (OrderField.VehiclePlate, "KRT 482") })
        {
            await Get<OrderStore>().SetFieldAsync(_order, field, text, null, Guid.NewGuid(), "Rosa");
        }

        var record = await Get<AuditStore>().OfOrderAsync(_order, null, 100);
        Assert.Equal(5, record.Length);
        Assert.All(record, e => Assert.Null(e.After));
    }

    private async Task<string> RefusalAsync(string action)
    {
        try
        {
            return (await DoAsync(action)) is { Outcome: SaveOutcome.Refused } refused ? refused.Message : "";
        }
        catch (NotAllowedException e)
        {
            return e.Message;
        }
        catch (InvalidOperationException)
        {
            // Let through, and then stopped by something else.
            return "";
        }
    }

    private async Task<SaveResult> DoAsync(string action)
    {
        var (id, price) = (Guid.NewGuid(), new PriceEntry { Kind = LineKind.Part, Name = "Coil", PriceMinor = 100 });
        return action switch
        {
            "open order" => await Said(Get<OrderStore>().OpenAsync(id, "")),
            "concern" => await Get<OrderStore>().SetFieldAsync(_order, OrderField.ConcernText, "x", null, id, ""),
            "telephone" => await Get<OrderStore>().SetFieldAsync(_order, OrderField.CustomerPhone, "1", null, id, ""),
            "e-mail" => await Get<OrderStore>().SetFieldAsync(_order, OrderField.CustomerEmail, "x", null, id, ""),
            "price of the diagnosis" => await Get<OrderStore>().SetFieldAsync(_order, OrderField.DiagnosisPriceMinor, "1", null, id, ""),
            "engine" => await Get<OrderStore>().SetEngineAsync(_order, TestShop.Four, "I4", id, ""),
            "known car" => await Get<OrderStore>().UseVehicleAsync(_order, Guid.NewGuid(), id),
            "reading" => await Get<OrderStore>().AddReadingAsync(_order, TestShop.Compression(1, 1200)),
            "obstacle" => await Get<OrderStore>().AddObstacleAsync(_order, new(id, new("leak-down", Diagnosis.Place.Engine), "")),
            "obstacle ends" => await Get<OrderStore>().EndObstacleAsync(_order, id, id, ""),
            "finding back" => await Get<OrderStore>().SetFindingAsync(_order, null, id),
            "step" => await Get<OrderStore>().MoveAsync(_order, OrderStage.InDiagnosis, "", "because", id),
            "hand over" => await Get<OrderStore>().MoveAsync(_order, OrderStage.HandedOver, "", "because", id),
            "draft estimate" => await Get<EstimateStore>().DraftAsync(_order, id, ""),
            "add line" => await Get<EstimateStore>().AddLineAsync(_order, Guid.NewGuid(), LineKind.Part, id, ""),
            "set line" => await Get<EstimateStore>().SetLineAsync(_order, Guid.NewGuid(), LineField.Text, "x", null, id, ""),
            "line off" => await Get<EstimateStore>().SetRemovedAsync(_order, Guid.NewGuid(), true, id, ""),
            "go on without proof" => await Get<EstimateStore>().GoAheadAsync(_order, "because", id, ""),
            "approve" => await Get<EstimateStore>().ApproveAsync(_order, new Approval { Id = id, At = default, By = "", Person = "Cy", Way = ApprovalWay.Phone, Contact = "1", Decisions = [] }),
            "move part" => await Get<PartStore>().MoveAsync(Guid.NewGuid(), PartState.Ordered, 1, id, ""),
            "part field" => await Get<PartStore>().SetFieldAsync(Guid.NewGuid(), PartField.Maker, "x", null, id, ""),
            "comeback" => await Get<ComebackStore>().AnswerComebackAsync(_order, null, ComebackAnswer.No, "", id),
            "photo" => await Get<PhotoStore>().AddAsync(Photo(""), new byte[] { 1 }, new byte[] { 1 }),
            "caption" => await Get<PhotoStore>().SetCaptionAsync(Guid.NewGuid(), "x", null, id, ""),
            "recording" => await Get<RecordingStore>().AddAsync(new() { Id = id, OrderId = _order, Kind = RecordingKind.Sound, Cylinders = 4 }),
            "recording off" => await Get<RecordingStore>().SetRemovedAsync(id, true),
            "settings" => await Said(Get<ShopStore>().SaveAsync(new ShopSettings())),
            "demo shop" => await Said(Get<ShopStore>().LoadDemoAsync()),
            "save price" => await Get<PriceStore>().SaveAsync(price, ""),
            "import prices" => await Said(Get<PriceStore>().PutAsync([price])),
            "remove price" => await Said(Get<PriceStore>().RemoveAsync("x")),
            "add person" => await Get<PeopleStore>().AddAsync(id, $"p{id:N}", "Pat", PersonRole.Technician, "hash"),
            "role" => await Get<PeopleStore>().SetRoleAsync(id, PersonRole.Owner),
            "shut out" => await Get<PeopleStore>().SetActiveAsync(id, false),
            "reset password" => await Get<PeopleStore>().ResetPasswordAsync(id, "hash"),
            "remove PIN" => await Get<PeopleStore>().RemovePinAsync(id),
            "sign out everywhere" => await Get<PeopleStore>().SignOutEverywhereAsync(id),
            "forget device" => await Get<PeopleStore>().ForgetDeviceAsync(id),
            "make token" => await Get<TokenStore>().MakeAsync(id, $"t{id:N}", [TokenGrant.WorkOut], null, TokenSecret.Hash(TokenSecret.New())!),
            "revoke token" => await Get<TokenStore>().RevokeAsync(id),
            "own PIN" => await Get<PeopleStore>().SetMyPinAsync("hash"),
            "own password" => await Get<PeopleStore>().SetMyPasswordAsync("hash"),
            "sweep photos" => await Said(Get<PhotoStore>().SweepAsync()),
            "sweep recordings" => await Said(Get<RecordingStore>().SweepAsync()),
            _ => throw new ArgumentOutOfRangeException(nameof(action), action, "No such action."),
        };
    }

    private static async Task<SaveResult> Said(Task task)
    {
        await task;
        return new(SaveOutcome.Saved, "");
    }

    private NewPhoto Photo(string by) => new() { Id = Guid.NewGuid(), OrderId = _order, Test = "borescope", At = ShopDiag.Diagnosis.Place.Engine, Width = 1, Height = 1, By = by };

    private T Get<T>()
        where T : notnull => _services.GetRequiredService<T>();
}
