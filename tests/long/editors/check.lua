-- What a person asks of the language server in Neovim, with the recipe of README.md as their init.lua; what came back goes to $TOLD as JSON.
-- usage: TOLD=told.json nvim --headless PROFILE -c 'luafile check.lua'
local function wait(what, probe)
  local value
  if not vim.wait(30000, function() value = probe() return value end, 20) then error('timed out: ' .. what, 0) end
  return value
end

local function check()
  local buffer = vim.api.nvim_get_current_buf()
  local client = wait('the server', function()
    for _, one in pairs(vim.lsp.buf_get_clients(buffer)) do return one.initialized and one end
  end)
  local told = { version = vim.fn.matchstr(vim.fn.execute('version'), [[NVIM v\zs[0-9.]*]]), client = client.name, root = client.config.root_dir }
  -- As it declares them where the recipe does not say: Neovim keeps no copy of what it sent.
  told.capabilities = client.config.capabilities or vim.lsp.protocol.make_client_capabilities()
  local function ask(method, params)
    local reply = client.request_sync(method, params, 30000, buffer)
    assert(reply and not reply.err, method .. ': ' .. vim.inspect(reply))
    return reply.result
  end
  local function on(text, method)
    vim.fn.cursor(1, 1)
    assert(vim.fn.search('\\V' .. text, 'ce') > 0, text)
    return ask(method, vim.lsp.util.make_position_params(0, client.offset_encoding))
  end

  told.diagnostics = vim.tbl_map(function(one)
    return { line = one.lnum + 1, message = one.message }
  end, wait('diagnostics', function() local found = vim.diagnostic.get(buffer) return #found > 0 and found end))
  told.hover = on('  correction', 'textDocument/hover').contents

  vim.fn.append(vim.fn.search('^gap:'), 'suction: ')
  local before = vim.api.nvim_buf_get_changedtick(buffer)
  told.completion = vim.tbl_map(function(item) return item.label end, on('suction: ', 'textDocument/completion').items)
  assert(vim.api.nvim_buf_get_changedtick(buffer) == before)
  vim.cmd('undo')

  on('stock: banner', 'textDocument/hover')
  vim.lsp.buf.rename('banner-520')
  wait('the rename', function() return vim.fn.search('^stock: banner-520$', 'nw') > 0 end)
  vim.cmd('silent wall')
  client.stop()
  wait('the end of the server', function() return vim.lsp.get_client_by_id(client.id) == nil end)
  vim.fn.writefile({ vim.fn.json_encode(told) }, vim.env.TOLD)
end

local ok, message = xpcall(check, function(problem) return debug.traceback(tostring(problem), 2) end)
if not ok then io.stderr:write(message .. '\n') end
vim.cmd(ok and 'qa!' or 'cq!')
